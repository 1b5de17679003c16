import type { rotatingLog } from '../adapters/log/rotating-log.ts';
import { UsageError } from '../core/material/errors.ts';
import type { WatchNews } from '../steps/watch/watch-media.ts';

type Log = ReturnType<typeof rotatingLog>;

/** Writes down what happens; what stays the same is written once, for a watch looks once a second for weeks. */
export function newsLog(log: Log): (news: WatchNews) => void {
  let away = '';
  return (news) => {
    if (news.kind === 'away' && news.why === away) return;
    away = news.kind === 'away' ? news.why : '';
    logNews(log, news);
  };
}

function logNews(log: Log, news: WatchNews): void {
  switch (news.kind) {
    case 'looked':
      break;
    case 'working':
      log.info({ files: news.files }, 'working');
      break;
    case 'done':
      log.info({ tookMs: news.tookMs }, 'done');
      break;
    case 'failed':
      log.error({ reason: reasonOf(news.reason), againInMs: news.againInMs }, 'failed');
      break;
    case 'away':
      log.warn(news.why);
      break;
    default:
      news satisfies never;
  }
}

/** Why something failed, in one line. */
export function reasonOf(reason: unknown): string {
  return reason instanceof UsageError ? reason.problems.join('; ') : reason instanceof Error ? reason.message : String(reason);
}
