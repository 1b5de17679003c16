import type { ProgressSink } from '../pipeline/progress.ts';
import { progressLine } from './progress-line.ts';

/** The last line of a terminal, kept current; where there is none, a line for each change. */
export interface HealthLine {
  readonly progress: ProgressSink;
  show(line: string): void;
  /** Lets something be said above it. */
  say(words: () => void): void;
  end(): void;
}

/** Shows how a watch stands, and between times how far its work is. */
export function healthLine(out: NodeJS.WriteStream): HealthLine {
  return {
    progress: progressLine(out, () => performance.now()),
    show: (line) => void out.write(out.isTTY ? `\r\u001b[2K${line.slice(0, (out.columns ?? 80) - 1)}` : `${line}\n`),
    say: (words) => {
      if (out.isTTY) out.write('\r\u001b[2K');
      words();
    },
    end: () => void (out.isTTY && out.write('\n')),
  };
}
