import { execFileSync } from 'node:child_process';

/** Programs that tests measure gemel against, and what each answers when asked for its version. */
const VERSION_ARGS: Readonly<Record<string, readonly string[]>> = {
  ffmpeg: ['-version'],
  ffprobe: ['-version'],
  exiftool: ['-ver'],
  mediainfo: ['--Version'],
  pdftotext: ['-v'],
  pdffonts: ['-v'],
};

/**
 * Whether a program stands on this machine, for `it.skipIf(!outsideProgram('ffprobe'))`. Says why a test is left out; in CI
 * nothing is left out, so a missing program is an error there.
 */
export function outsideProgram(name: string): boolean {
  try {
    execFileSync(name, [...(VERSION_ARGS[name] ?? ['--version'])], { stdio: 'ignore' });
    return true;
  } catch (cause) {
    if (isNotFound(cause)) {
      if (process.env['CI'] === 'true') throw new Error(`${name} is not installed, and CI may not do without it`, { cause });
      process.stderr.write(`left out: ${name} is not installed\n`);
      return false;
    }
    // It is there and did not like the question.
    return true;
  }
}

function isNotFound(failure: unknown): boolean {
  return failure instanceof Error && 'code' in failure && failure.code === 'ENOENT';
}
