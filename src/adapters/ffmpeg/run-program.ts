import { execFile } from 'node:child_process';

/** What a short-lived program wrote, and how it ended: `code` 0 is well, undefined when it was killed. */
export interface ProgramRun {
  readonly stdout: Uint8Array;
  readonly stderr: string;
  readonly code: number | undefined;
  readonly timedOut: boolean;
}

export interface RunLimits {
  readonly timeoutMs: number;
  readonly maxOutputBytes: number;
  readonly signal: AbortSignal;
  /** The folder it runs in; without it that of gemel. */
  readonly folder?: string;
}

/**
 * Runs a program with an argument array, never through a shell, and kills it when it takes too long or says too much.
 * A plain process: fluent-ffmpeg 2.1.3 lets the error of a program that does not start escape as an uncaught exception, and
 * asks each ffmpeg for tables it then reads by the patterns of old versions.
 * @throws {Error} when it cannot be started, writes more than it may, or the signal fires.
 */
export async function runProgram(path: string, args: readonly string[], limits: RunLimits): Promise<ProgramRun> {
  limits.signal.throwIfAborted();
  return new Promise((resolve, reject) => {
    const options = {
      timeout: limits.timeoutMs,
      killSignal: 'SIGKILL',
      maxBuffer: limits.maxOutputBytes,
      signal: limits.signal,
      windowsHide: true,
      encoding: 'buffer',
      ...(limits.folder === undefined ? {} : { cwd: limits.folder }),
    } as const;
    const child = execFile(path, [...args], options, (failure, stdout, stderr) => {
      const run = { stdout, stderr: stderr.toString('utf8') };
      if (failure === null) resolve({ ...run, code: 0, timedOut: false });
      else if (limits.signal.aborted) reject(limits.signal.reason);
      else if (typeof failure.code === 'number') resolve({ ...run, code: failure.code, timedOut: false });
      // A string is the system's word (ENOENT) or Node's (too much output); a killed program has no code at all.
      else if (typeof failure.code === 'string') reject(failure);
      else resolve({ ...run, code: undefined, timedOut: failure.killed === true });
    });
    child.stdin?.end();
  });
}
