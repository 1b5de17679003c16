import { execFile } from 'node:child_process';

/** What a short-lived program printed, and how it ended: `code` 0 is well, undefined when it was killed. */
export interface ProgramRun {
  readonly stdout: string;
  readonly stderr: string;
  readonly code: number | undefined;
  readonly timedOut: boolean;
}

export interface RunLimits {
  readonly timeoutMs: number;
  readonly maxOutputBytes: number;
  readonly signal: AbortSignal;
}

/**
 * Runs a program with an argument array, never through a shell, and kills it when it takes too long or says too much.
 * @throws {Error} when it cannot be started, prints more than it may, or the signal fires.
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
      encoding: 'utf8',
    } as const;
    const child = execFile(path, [...args], options, (failure, stdout, stderr) => {
      if (failure === null) resolve({ stdout, stderr, code: 0, timedOut: false });
      else if (limits.signal.aborted) reject(limits.signal.reason);
      else if (typeof failure.code === 'number') resolve({ stdout, stderr, code: failure.code, timedOut: false });
      else if (failure.killed === true && failure.code === undefined) resolve({ stdout, stderr, code: undefined, timedOut: true });
      else if (failure.signal !== undefined && failure.signal !== null) resolve({ stdout, stderr, code: undefined, timedOut: false });
      else reject(failure);
    });
    child.stdin?.end();
  });
}
