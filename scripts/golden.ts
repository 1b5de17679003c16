/**
 * Files that are generated and kept in the repository: `npm run golden` writes them, `npm run golden -- --check` fails when one
 * is not current. The schema of a pipeline file comes from the code that checks it, the expected report from the sample day.
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { spawnSync } from 'node:child_process';
import { pipelineJsonSchema } from '../src/config/written.ts';
import { receiptJsonSchema } from '../src/formats/turnover/receipt.ts';
import { shotJsonSchema } from '../src/formats/turnover/shot-file.ts';
import { turnoverJsonSchema } from '../src/formats/turnover/turnover-file.ts';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');

function generated(): ReadonlyMap<string, string> {
  const day = sampleDay();
  return new Map([
    ['docs/pipeline.schema.json', `${JSON.stringify(pipelineJsonSchema(), undefined, 2)}\n`],
    ['docs/shot.schema.json', `${JSON.stringify(shotJsonSchema(), undefined, 2)}\n`],
    ['docs/turnover.schema.json', `${JSON.stringify(turnoverJsonSchema(), undefined, 2)}\n`],
    ['docs/receipt.schema.json', `${JSON.stringify(receiptJsonSchema(), undefined, 2)}\n`],
    ['tests/golden/day-04/report.json', day.report],
    ['tests/golden/day-04/table.txt', day.table],
  ]);
}

/** Runs the demonstration as a user would, without sheets: they are looked at by their own tests. */
function sampleDay(): { readonly report: string; readonly table: string } {
  const out = mkdtempSync(join(tmpdir(), 'gemel-golden-'));
  try {
    const bin = join(root, 'bin', 'gemel.mjs');
    const done = spawnSync(process.execPath, [bin, 'demo', '--out', out, '--no-sheets'], { encoding: 'utf8', env: { ...process.env, COLUMNS: '110', NO_COLOR: '1' } });
    if (done.status !== 1) throw new Error(`the demonstration ended with ${String(done.status)}:\n${done.stdout}${done.stderr}`);
    return { report: readFileSync(join(out, 'report.json'), 'utf8'), table: done.stdout.replaceAll(out, 'OUT') };
  } finally {
    rmSync(out, { recursive: true, force: true });
  }
}

const check = process.argv.includes('--check');
let stale = 0;
for (const [file, text] of generated()) {
  const path = join(root, file);
  const current = ((): string | undefined => {
    try {
      return readFileSync(path, 'utf8');
    } catch {
      return undefined;
    }
  })();
  if (current === text) continue;
  stale += 1;
  if (check) {
    console.error(`${file} is not current; run "npm run golden", look at the difference and commit it`);
  } else {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, text);
    console.log(`${file} written`);
  }
}
if (check && stale > 0) process.exitCode = 1;
if (stale === 0) console.log('generated files are current');
