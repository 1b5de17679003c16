import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import type { ElementPicture } from '../picture/measure/match-picture.ts';
import { figure } from './evidence.ts';
import { raise } from './raise.ts';

/** Spill on more of what stands before the screen than this, and as strong, asks for a look. Common practice, no source. */
const [SPILL_SHARE, SPILL] = [0.05, 0.15];
/** A key holds over about so many stops. Common practice, no source. */
const UNEVEN_STOPS = 1;

/** The screen behind an element: its light on the performer, and how even it is. */
export function checkScreenPicture(clip: Clip, { screen }: ElementPicture): readonly Finding[] {
  if (screen.kind !== 'measured') return [];
  const { spillShare, worstSpill, evenness, screenShare } = screen;
  const shared = { severity: 'warn', subject: [clip], clip, screen, evidence: [`the screen fills ${Math.round(100 * screenShare)} % of the frame`] } as const;
  return [
    ...(spillShare <= SPILL_SHARE || worstSpill <= SPILL ? [] : [raise({ code: 'screen-spill', ...shared, measured: { value: figure(100 * worstSpill, 0), unit: '%' }, allowed: { value: 100 * SPILL, unit: '%' } })]),
    ...(evenness.stops <= UNEVEN_STOPS ? [] : [raise({ code: 'screen-uneven', ...shared, measured: { value: figure(evenness.stops, 2), unit: 'stops' }, allowed: { value: UNEVEN_STOPS, unit: 'stops' } })]),
  ];
}
