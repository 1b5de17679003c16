import type { JudgedDay, Verdict } from '../core/checks/judged.ts';
import type { Health } from '../formats/terminal/health.ts';
import type { WatchNews } from '../steps/watch/watch-media.ts';
import { reasonOf } from './watch-log.ts';

/** How a watch stands, out of its news; tells whenever that changes. */
export class Standing {
  sets: Readonly<Record<Verdict, number>> | undefined;
  readonly #onHealth: (health: Health) => void;
  #files = 0;
  #waiting = 0;
  #last = '';

  constructor(onHealth: (health: Health) => void, sets: Health['sets']) {
    this.#onHealth = onHealth;
    this.sets = sets;
  }

  judged(day: JudgedDay): void {
    const count = (verdict: Verdict): number => day.sets.filter((set) => set.verdict === verdict).length;
    this.sets = { yes: count('yes'), look: count('look'), no: count('no') };
  }

  hear(news: WatchNews): void {
    if (news.kind === 'looked') {
      this.#files = news.files;
      this.#waiting = news.waiting;
    }
    const state = ({ looked: 'looking', working: 'working', done: 'looking', failed: 'failed', away: 'away' } as const)[news.kind];
    const trouble = news.kind === 'away' ? news.why : news.kind === 'failed' ? `${reasonOf(news.reason)}; trying again` : undefined;
    const health = { state, files: this.#files, waiting: this.#waiting, sets: this.sets, trouble };
    const text = JSON.stringify(health);
    if (text !== this.#last) this.#onHealth(health);
    this.#last = text;
  }
}
