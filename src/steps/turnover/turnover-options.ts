import type { ShotRow } from '../../core/material/shot-list.ts';
import type { PullFormat } from '../../formats/media/pull-format.ts';
import type { SheetTemplate } from '../../formats/sheet/template.ts';
import type { TurnoverFile } from '../../formats/turnover/turnover-file.ts';

/** How a turnover is made. */
export interface TurnoverOptions {
  readonly show: string;
  /** Whom shots go to that name no vendor of their own. */
  readonly vendor: string | undefined;
  /** Only the shots of this vendor; undefined: all. */
  readonly onlyVendor: string | undefined;
  /** Number of the first frame of a shot that was not turned over before. */
  readonly firstNumber: number;
  readonly pictures: PullFormat | undefined;
  readonly movies: boolean;
  /** Package unchanged shots too. */
  readonly all: boolean;
  /** Package shots that a finding stops; they are still listed as stopped. */
  readonly includeStopped: boolean;
  /** Names of the cut lists, as they are shown. */
  readonly cuts: readonly string[];
  readonly template: SheetTemplate;
  /** Every shot that was asked for, those whose set-up is not here among them. */
  readonly rows: readonly ShotRow[];
  /** Names safe as folders on every system, no two alike, in the same order. */
  readonly folderNames: (shots: readonly string[]) => readonly string[];
}

/** The turnover before this one, and the name of its package. */
export interface PreviousTurnover {
  readonly package: string;
  readonly turnover: TurnoverFile;
}
