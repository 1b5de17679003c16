import { existsSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { chromium } from 'playwright-core';

const EXECUTABLE = process.env['GEMEL_CHROMIUM'] ?? '/usr/bin/chromium';

/** Whether a browser stands on this machine, for `describe.skipIf(!hasBrowser())`. Says why tests are left out; in CI nothing is left out, so a missing browser is an error there. */
export function hasBrowser(): boolean {
  if (existsSync(EXECUTABLE)) return true;
  if (process.env['CI'] === 'true') throw new Error(`${EXECUTABLE} is not there, and CI may not do without a browser (or set GEMEL_CHROMIUM)`);
  process.stderr.write(`left out: there is no browser at ${EXECUTABLE} (GEMEL_CHROMIUM names another)\n`);
  return false;
}

/** A headless Chromium that fetches nothing by itself. Close it when done. */
export async function launchBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: EXECUTABLE,
    args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
  });
}
