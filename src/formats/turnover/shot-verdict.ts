import type { ShotFile } from './shot-file.ts';

/** What a shot of a turnover is worth, and how many findings stop it or ask for a look. */
export interface ShotVerdict {
  readonly verdict: 'yes' | 'look' | 'no';
  readonly stops: number;
  readonly warnings: number;
}

/** Judges a shot by its own findings. */
export function shotVerdict({ findings }: Pick<ShotFile, 'findings'>): ShotVerdict {
  const count = (wanted: string): number => findings.filter(({ severity }) => severity === wanted).length;
  const [stops, warnings] = [count('stop'), count('warn')];
  return { verdict: stops > 0 ? 'no' : warnings > 0 ? 'look' : 'yes', stops, warnings };
}

/** "NOT COMPLETE", "LOOK", "COMPLETE": as the sheet prints it. */
export const VERDICT_WORDS: Readonly<Record<ShotVerdict['verdict'], string>> = { yes: 'COMPLETE', look: 'LOOK', no: 'NOT COMPLETE' };

/** "LOOK, 4 warnings". */
export function verdictWords({ verdict, stops, warnings }: ShotVerdict): string {
  const counted = [...(stops === 0 ? [] : [`${stops} ${stops === 1 ? 'stop' : 'stops'}`]), ...(warnings === 0 ? [] : [`${warnings} ${warnings === 1 ? 'warning' : 'warnings'}`])];
  return [VERDICT_WORDS[verdict], ...counted].join(', ');
}
