import type { Paper } from './content.ts';

/** The parts of a sheet a template can choose and order. */
export const SHEET_SECTIONS = ['summary', 'findings', 'shot', 'coverage', 'plates', 'pictures', 'measured', 'comparison', 'along', 'marks', 'corrections', 'notes', 'sign-off'] as const;
export type SheetSection = (typeof SHEET_SECTIONS)[number];

/** The parts of a repeat card a template can choose and order. */
export const CARD_SECTIONS = ['length', 'lens', 'exposure', 'position', 'marks', 'notes'] as const;
export type CardSection = (typeof CARD_SECTIONS)[number];

/** How a printed page of one kind is made up. `words` replace built-in wording by name. */
export interface Template<Section extends string> {
  readonly paper: Paper;
  readonly accent: string;
  readonly title: string;
  readonly sections: readonly Section[];
  /** A heading of one's own for a section. */
  readonly headings: Readonly<Partial<Record<Section, string>>>;
  readonly caution: string;
}

export interface SheetTemplate extends Template<SheetSection> {
  readonly question: string;
  readonly answers: { readonly yes: string; readonly no: string; readonly look: string };
  /** Who signs, and what each of them fills in. */
  readonly signatures: readonly string[];
  readonly signatureFields: readonly string[];
}

export type CardTemplate = Template<CardSection>;

const CAUTION =
  'This sheet describes plates. It clears nothing for safety: motion control, stunts and rigging are the responsible crew’s to judge, under local rules. Colour is passed through untouched.';

/** What a template leaves out stands as here. */
export const DEFAULT_SHEET_TEMPLATE: SheetTemplate = {
  paper: 'A4',
  accent: '#1d4e63',
  title: 'Plate sheet',
  sections: SHEET_SECTIONS,
  headings: {},
  caution: CAUTION,
  question: 'Clear to strike',
  answers: { yes: 'YES', no: 'NO', look: 'LOOK' },
  signatures: ['DIT', 'Camera', 'VFX supervisor'],
  signatureFields: ['Name', 'Date', 'Signature'],
};

/** What a template leaves out stands as here. */
export const DEFAULT_CARD_TEMPLATE: CardTemplate = {
  paper: 'A4',
  accent: '#1d4e63',
  title: 'Repeat card',
  sections: CARD_SECTIONS,
  headings: {},
  caution: CAUTION.replace('This sheet describes plates.', 'This card describes a plate.'),
};

/** The headings used where a template has none of its own. */
export const SHEET_HEADINGS: Readonly<Record<SheetSection, string>> = {
  summary: 'What you get, and how it fits together',
  findings: 'Findings',
  shot: 'The shot',
  coverage: 'Coverage',
  plates: 'Plates',
  pictures: 'Matched frames',
  measured: 'Measured in the pictures',
  comparison: 'Lens and camera compared',
  along: 'Along the take',
  marks: 'Marks of the move',
  corrections: 'Corrections used',
  notes: 'Notes',
  'sign-off': 'Sign-off',
};

export const CARD_HEADINGS: Readonly<Record<CardSection, string>> = {
  length: 'How long it must run',
  lens: 'Lens',
  exposure: 'Exposure',
  position: 'Camera position',
  marks: 'Marks of the move',
  notes: 'Notes',
};
