/** The few ways the table sets words apart; each has words beside it, so that nothing rests on colour alone. */
export interface Ink {
  readonly strong: (text: string) => string;
  readonly faint: (text: string) => string;
  readonly bad: (text: string) => string;
  readonly doubtful: (text: string) => string;
  readonly good: (text: string) => string;
}

/** Inks by SGR sequences (ECMA-48), or plain text without colour. */
export function inks(colour: boolean): Ink {
  const ink = (codes: string) => (text: string) => (colour ? `\u001b[${codes}m${text}\u001b[0m` : text);
  return { strong: ink('1'), faint: ink('2'), bad: ink('1;31'), doubtful: ink('1;33'), good: ink('1;32') };
}
