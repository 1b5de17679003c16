import type { Clip } from '../material/clip.ts';
import type { ShotRow } from '../material/shot-list.ts';
import { setUpKey } from '../slate/slate.ts';

/** Whether a row of the shot list (or of another list that names slates) names this lead: its set-up, and its take and camera where the row gives them. */
export function namesLead(row: Pick<ShotRow, 'slate' | 'take' | 'camera'>, lead: Clip): boolean {
  const { slate } = lead;
  if (slate === undefined) return false;
  if (row.camera !== undefined && row.camera !== lead.camera && foldSlate(row.camera) !== foldSlate(lead.camera ?? '')) return false;
  if (row.take !== undefined && row.take !== slate.take) return false;
  const setUp = setUpKey(slate);
  // Mostly it is written alike, and folding is slow for a day of thousands of clips.
  if (row.slate === setUp || row.slate === slate.text) return true;
  const written = foldSlate(row.slate);
  // A row may carry the take in its slate ("27B-3"), or repeat what stands on the board.
  return written === foldSlate(setUp) || (slate.take !== undefined && written === foldSlate(`${setUp} ${slate.take}`)) || written === foldSlate(slate.text);
}

/**
 * A slate as it is compared, however it is written: "Slate 27b tk 03" and "27B/3" are alike. Letters and digits alone are kept,
 * and one "-" where it parts two numbers: "27-2" is not "272".
 */
export function foldSlate(text: string): string {
  return text
    .normalize('NFKC')
    .toUpperCase()
    .replace(/^[^\p{L}\p{N}]*(?:SLATE|SCENE)(?=[^\p{L}]*\d|[^\p{L}\p{N}])/u, ' ')
    .replaceAll(/(?:TAKE|TK)(?=[^\p{L}\p{N}]*\d)/gu, ' ')
    .replaceAll(/(?<=\d)[^\p{L}\p{N}]+(?=\d)/gu, '-')
    .replaceAll(/[^\p{L}\p{N}-]|(?<!\d)-|-(?!\d)/gu, '')
    .replaceAll(/(?<!\d)0+(?=\d)/gu, '');
}
