import type { TestSpecification } from 'vitest/node';
import { BaseSequencer } from 'vitest/node';

/** The files that take longest, the longest first. */
const LONG = [
  'cli/sample-day', 'cli/farm', 'adapters/ffmpeg/odd-pictures', 'cli/turnover', 'pipeline/day-pictures', 'core/picture/doubtful-scenes', 'adapters/ffmpeg/measured-movies', 'formats/board/board-in-browser',
  'cli/watch-killed', 'core/picture/cases', 'adapters/ffmpeg/ffmpeg-frame-source', 'core/picture/split/study-split', 'adapters/farm/boss-farm', 'core/picture/sync/sync-by-sound', 'cli/turnover-killed',
  'adapters/ffmpeg/pull-frames', 'adapters/web/live-board', 'core/picture/split/hard-cases',
];

/** Begins the long files first, so that none of them runs alone at the end; Vitest knows how long files take only where it has run before. */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification): number => {
      const at = LONG.findIndex((name) => moduleId.endsWith(`/tests/${name}.test.ts`));
      return at === -1 ? LONG.length : at;
    };
    return (await super.sort(files)).toSorted((a, b) => place(a) - place(b));
  }
}
