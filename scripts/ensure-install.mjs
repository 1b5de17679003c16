// Runs before `npm run demo`, `npm test` and friends, on whatever Node started npm (20.20 or newer),
// so it is plain JavaScript and uses nothing that has to be installed first.
// It installs only when the tree is missing or the lock is newer than the tree.
import { execFileSync } from 'node:child_process';
import { existsSync, statSync, utimesSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const lock = join(root, 'package-lock.json');
const installed = join(root, 'node_modules', '.package-lock.json');
const runtime = join(root, 'node_modules', '.bin', process.platform === 'win32' ? 'node.cmd' : 'node');

const current = existsSync(installed) && existsSync(runtime) && statSync(installed).mtimeMs >= statSync(lock).mtimeMs;
if (!current) {
  process.stderr.write('gemel: installing what it needs (npm ci), once ...\n');
  const npm = process.env['npm_execpath'];
  const [program, first] = npm ? [process.execPath, [npm]] : ['npm', []];
  execFileSync(program, [...first, 'ci', '--loglevel=error', '--no-audit', '--no-fund'], { cwd: root, stdio: ['ignore', 2, 2] });
  if (existsSync(installed)) utimesSync(installed, new Date(), new Date());
  if (!existsSync(runtime)) {
    process.stderr.write(
      'gemel: the pinned runtime was not installed (node_modules/.bin/node is missing).\n' +
        'npm was told not to run install scripts? Run: npm ci --ignore-scripts=false\n',
    );
    process.exit(2);
  }
}
