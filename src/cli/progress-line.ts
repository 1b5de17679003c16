import type { ProgressSink } from '../pipeline/progress.ts';

const EVERY_MS = 100;

/**
 * One line on the terminal that counts files and bytes and says how long it may still take. Says nothing when the output is
 * not a terminal, so logs and other programs see results only.
 */
export function progressLine(out: NodeJS.WriteStream, now: () => number): ProgressSink {
  if (!out.isTTY) return { start() {}, advance() {}, done() {} };
  let task = '';
  let started = 0;
  let drawn = 0;
  let files = 0;
  let bytes = 0;
  let totals = { files: 0, bytes: 0 };
  const draw = (): void => {
    drawn = now();
    out.write(`\r\u001b[2K${lineOf(task, files, bytes, totals, (drawn - started) / 1000)}`.slice(0, (out.columns ?? 80) + 5));
  };
  return {
    start(name, totalFiles, totalBytes) {
      task = name;
      started = now();
      files = 0;
      bytes = 0;
      totals = { files: totalFiles, bytes: totalBytes };
      draw();
    },
    advance(moreFiles, moreBytes) {
      files += moreFiles;
      bytes += moreBytes;
      if (now() - drawn >= EVERY_MS) draw();
    },
    done() {
      out.write('\r\u001b[2K');
    },
  };
}

function lineOf(task: string, files: number, bytes: number, totals: { readonly files: number; readonly bytes: number }, seconds: number): string {
  const share = totals.bytes > 0 ? bytes / totals.bytes : totals.files > 0 ? files / totals.files : 0;
  const parts = [`${task}: ${files} of ${totals.files}`];
  if (totals.bytes > 0) parts.push(`${formatBytes(bytes)} of ${formatBytes(totals.bytes)}`);
  if (share > 0.02 && share < 1 && seconds > 1) parts.push(`about ${formatSeconds((seconds * (1 - share)) / share)} left`);
  return parts.join(', ');
}

/** 1 000-based, as disks are sold: "3.2 GB". */
export function formatBytes(bytes: number): string {
  const units = ['B', 'kB', 'MB', 'GB', 'TB', 'PB'];
  let value = bytes;
  let unit = 0;
  while (value >= 1000 && unit < units.length - 1) {
    value /= 1000;
    unit += 1;
  }
  return `${unit === 0 || value >= 100 ? Math.round(value) : value.toFixed(1)} ${units[unit]}`;
}

/** "45 s", "3 min", "2 h 10 min". */
export function formatSeconds(seconds: number): string {
  if (seconds < 90) return `${Math.max(1, Math.round(seconds))} s`;
  const minutes = Math.round(seconds / 60);
  return minutes < 90 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}
