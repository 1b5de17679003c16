#!/usr/bin/env node
// Plain JavaScript on purpose: an older Node may start it. The code itself needs Node 24 or newer, which the pinned
// `node` package brings along; when an older Node is running, start again on that one.
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync } from 'node:fs';
import module, { createRequire } from 'node:module';
import { homedir } from 'node:os';
import { dirname, isAbsolute, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const major = Number(process.versions.node.split('.')[0]);

/** The checkout runs from source; an installed package carries the built code instead (Node strips no types below node_modules). */
function entry() {
  const source = join(here, '..', 'src', 'cli', 'main.ts');
  const built = join(here, '..', 'dist', 'cli', 'main.js');
  return existsSync(source) ? source : built;
}

function pinnedRuntime() {
  try {
    const manifest = createRequire(import.meta.url).resolve('node/package.json');
    const path = join(dirname(manifest), 'bin', process.platform === 'win32' ? 'node.exe' : 'node');
    return existsSync(path) ? path : undefined;
  } catch {
    return undefined;
  }
}

/** Half of a start is compiling. What was compiled is kept among this user's own things, where nobody else can plant code. */
function keepCompiled() {
  if (process.env.NODE_COMPILE_CACHE) return;
  const folders = { win32: ['AppData', 'Local'], darwin: ['Library', 'Caches'] }[process.platform] ?? ['.cache'];
  try {
    let folder = homedir();
    if (!isAbsolute(folder)) return;
    // One by one: asked for all at once, the runtime never gives up on homes where nothing can be made, such as /proc.
    for (const name of [...folders, 'gemel', 'compiled']) {
      folder = join(folder, name);
      if (!existsSync(folder)) mkdirSync(folder);
    }
    module.enableCompileCache?.(folder);
  } catch {
    // It does without.
  }
}

if (major >= 24) {
  keepCompiled();
  await import(pathToFileURL(entry()).href);
} else {
  const runtime = pinnedRuntime();
  if (runtime === undefined) {
    process.stderr.write(
      `gemel needs Node 24 or newer; this is ${process.versions.node} and the pinned runtime is not installed.\n` +
        'Run "npm ci" in the gemel folder (npm 12: allow the install script of the package "node"), or start gemel with a newer Node.\n',
    );
    process.exit(2);
  }
  const child = spawn(runtime, [fileURLToPath(import.meta.url), ...process.argv.slice(2)], { stdio: 'inherit' });
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal));
  child.on('error', (problem) => {
    process.stderr.write(`gemel: could not start the pinned runtime ${runtime}: ${problem.message}\n`);
    process.exit(2);
  });
  child.on('exit', (code, signal) => process.exit(code ?? (signal === null ? 2 : 130)));
}
