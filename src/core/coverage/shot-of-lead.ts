import type { Clip } from '../material/clip.ts';
import type { ShotRow } from '../material/shot-list.ts';
import { setUpKey } from '../slate/slate.ts';

/** Whether a row of the shot list (or a mark of a move) names this clip: its set-up, and its take and camera where the row gives them. */
export function namesLead(row: Pick<ShotRow, 'slate' | 'take' | 'camera'>, lead: Clip): boolean {
  const { slate } = lead;
  if (slate === undefined) return false;
  if (row.camera !== undefined && folded(row.camera) !== folded(lead.camera ?? '')) return false;
  if (row.take !== undefined && row.take !== slate.take) return false;
  const written = folded(row.slate).replace(/^(SLATE|SCENE)(?=[A-Z0-9])/, '');
  const setUp = folded(setUpKey(slate));
  // A row may carry the take in its slate ("27B-3"), or repeat what stands on the board.
  return written === setUp || (slate.take !== undefined && written === `${setUp}${slate.take}`) || folded(row.slate) === folded(slate.text);
}

/** Letters and digits alone, upper case: "27b - 3" and "27B/3" are written alike. */
function folded(text: string): string {
  return text.normalize('NFC').toUpperCase().replaceAll(/[^\p{L}\p{N}]/gu, '');
}
