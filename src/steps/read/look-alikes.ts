import type { ReadClip } from '../../core/material/clip.ts';
import { fileProblem } from './unusable.ts';

/**
 * Notes on clips whose paths differ only in how letters are composed (NFC, NFD) or in case: people and some systems cannot tell
 * them apart. Both stay clips of their own.
 */
export function noteLookAlikes(clips: readonly ReadClip[]): readonly ReadClip[] {
  const alike = new Map<string, string[]>();
  for (const { file } of clips) alike.set(looks(file), [...(alike.get(looks(file)) ?? []), file]);
  return clips.map((clip) => {
    const others = (alike.get(looks(clip.file)) ?? []).filter((file) => file !== clip.file);
    return others.length === 0 ? clip : { ...clip, problems: [...clip.problems, note(clip.file)] };
  });
}

function looks(file: string): string {
  return file.normalize('NFC').toLowerCase();
}

function note(file: string): ReadClip['problems'][number] {
  return fileProblem(file, 'duplicate-clip', 'note', {
    found: 'another clip whose name looks the same: it differs only in how an accented letter is stored, or in capitals',
    expected: 'names that can be told apart',
    remedy: 'rename a copy of one of them before a report or an edit names either',
  });
}
