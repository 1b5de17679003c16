import { normaliseHeading } from '../../core/material/heading.ts';
import type { Field } from '../../core/material/statement.ts';
import type { CellUnit } from './unit.ts';
import { unitOfWord } from './unit.ts';

/** What a heading says: the field it stands for, when it is known, and the unit of cells that name none. */
export interface HeadingMeaning {
  readonly field?: Field;
  readonly unit?: CellUnit;
}

/**
 * Reads a heading such as `Focal (mm)`, `Focus Distance [ft]`, `Height cm`, `Tilt °`, `T-Stop`: first as it stands, then
 * without its brackets or its last word if that is a unit.
 */
export function readHeading(heading: string, headings: Readonly<Record<string, Field>>): HeadingMeaning {
  const { rest, unit } = headingUnit(heading);
  const field = find(headings, normaliseHeading(heading)) ?? fieldByUnit(normaliseHeading(rest), unit) ?? find(headings, normaliseHeading(rest));
  const scale = unit ?? unitInName(field, normaliseHeading(rest));
  return { ...(field === undefined ? {} : { field }), ...(scale === undefined ? {} : { unit: scale }) };
}

/** Far above any heading; what is longer has no unit, and keeps the expressions below short. */
const LONGEST_HEADING = 200;

/** A heading taken apart: `Focal (mm)` is "Focal" in mm. `rest` is the heading itself when it names no unit. */
export function headingUnit(heading: string): { readonly rest: string; readonly unit?: CellUnit } {
  const text = heading.trim();
  if (text.length > LONGEST_HEADING) return { rest: text };
  const [, before, inBrackets] = /^(.+?)\s*[([{]([^()[\]{}]{0,40})[)\]}]$/.exec(text) ?? [];
  if (before !== undefined && inBrackets !== undefined) {
    const unit = unitOfWord(inBrackets);
    return unit === undefined ? { rest: before } : { rest: before, unit };
  }
  const [, name, lastWord] = /^(.+?)(?:[\s_\-.]+([a-z%'"]{1,12})|\s*([°\u00BA\u02DA]))$/i.exec(text)?.filter((part) => part !== undefined) ?? [];
  const unit = lastWord === undefined || lastWord.length === 1 && /[tf]/i.test(lastWord) ? undefined : unitOfWord(lastWord.replace(/[\u00BA\u02DA]/, '°'));
  return name === undefined || unit === undefined ? { rest: text } : { rest: name, unit };
}

/** "Lens (mm)" is a focal length and "Roll (deg)" an angle, whatever "Lens" and "Roll" alone are. */
function fieldByUnit(name: string, unit: CellUnit | undefined): Field | undefined {
  if (name === 'lens' && unit === 'mm') return 'focalLength';
  return name === 'roll' && unit === 'deg' ? 'rollAngle' : undefined;
}

function unitInName(field: Field | undefined, name: string): CellUnit | undefined {
  if (field === 'stop') return name.startsWith('t') ? 'T' : name.startsWith('f') ? 'f' : undefined;
  return field === 'filters' && name.startsWith('nd') ? 'nd' : undefined;
}

function find(headings: Readonly<Record<string, Field>>, name: string): Field | undefined {
  return Object.hasOwn(headings, name) ? headings[name] : undefined;
}
