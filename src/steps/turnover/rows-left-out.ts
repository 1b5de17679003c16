import type { JudgedDay } from '../../core/checks/judged.ts';
import type { UntiedEvent } from '../../core/material/cut.ts';
import type { ShotRow } from '../../core/material/shot-list.ts';
import { foldCode } from '../../core/matching/cut/cut-rows.ts';
import type { LeftOut } from '../../formats/turnover/turnover-file.ts';
import type { FoundShot } from './find-shots.ts';
import type { TurnoverOptions } from './turnover-options.ts';

/**
 * What was asked for and is no shot of the turnover: events of the cut that are tied to no clip, shots whose lead is not here, shots
 * of the shot list that the cut does not use, and ordinary shots, which are no fault. Shots of `before` that are gone are not told here.
 */
export function rowsLeftOut(day: JudgedDay, options: TurnoverOptions, asked: readonly FoundShot[], before: ReadonlyMap<string, unknown>): readonly LeftOut[] {
  const { untied = [], ordinary = [] } = day.cutRest ?? {};
  const found = new Set(asked.map(({ row }) => row.from));
  const inCut = new Set([...asked.map(({ code }) => code), ...options.rows.flatMap(({ shot, inCut: cut }) => (cut === undefined ? [] : [shot])), ...untied.map(({ shot }) => shot)].map(foldCode));
  const wanted = options.rows.filter((row) => !found.has(row.from) && isFor(row.vendor ?? options.vendor, options));
  const listed = wanted.filter(({ inCut: cut }) => cut === undefined);
  const rows = options.cuts.length === 0 ? wanted.map(shotNotHere) : [
    ...wanted.filter(({ inCut: cut }) => cut !== undefined).map(shotNotHere),
    ...listed.filter(({ shot }) => !inCut.has(foldCode(shot))).flatMap((row): readonly LeftOut[] => {
      const plain = ordinary.find(({ shot }) => foldCode(shot) === foldCode(row.shot));
      return plain === undefined ? (before.has(row.shot) ? [] : [notInCut(row, firstDoubt(day))]) : [noPlateSet(row, plain)];
    }),
  ];
  const ofList = new Set(listed.map(({ shot }) => foldCode(shot)));
  return [
    ...untied.filter((event) => event.makesShot && mayBeFor(event, options)).map(({ shot, why, remedy }): LeftOut => ({ shot, kind: 'untied', why, remedy })),
    ...rows,
    ...ordinary.filter(({ shot }) => !ofList.has(foldCode(shot))).map(({ shot, from }): LeftOut => ({ shot, kind: 'ordinary', why: `${from}: an ordinary shot, no pass of it was shot more than once for a composite.`, remedy: '' })),
  ];
}

/** What is in doubt of the cut, first by its order: "cut_v2.edl line 4 could not be read"; undefined when every event was read and tied. */
export function firstDoubt({ cutRest }: JudgedDay): string | undefined {
  const [first, ...more] = cutRest?.untied ?? [];
  if (first === undefined) return undefined;
  return `${first.from} ${first.short}${more.length === 0 ? '' : `, and ${more.length} more ${more.length === 1 ? 'event is' : 'events are'} in doubt`}`;
}

/** Whether a shot of this vendor is asked for. */
export function isFor(vendor: string | undefined, { onlyVendor }: TurnoverOptions): boolean {
  return onlyVendor === undefined || vendor === onlyVendor;
}

/** An event of which nobody knows whose it is may be anybody's. */
function mayBeFor({ listed, vendor }: UntiedEvent, options: TurnoverOptions): boolean {
  return !listed || isFor(vendor ?? options.vendor, options);
}

function shotNotHere({ shot, slate, from }: ShotRow): LeftOut {
  return { shot, kind: 'not-here', why: `${from}: found slate ${slate}; expected a lead pass of it among the media.`, remedy: 'Add the media it was shot on, or correct its slate and take.' };
}

function noPlateSet({ shot, from }: ShotRow, { lead, from: inCut }: { readonly lead: string; readonly from: string }): LeftOut {
  return { shot, kind: 'not-here', why: `${from}: in the shot list, and ${inCut} uses ${lead} for it, which belongs to no plate set.`, remedy: 'Name its passes (pass column, notes or corrections), or take it off the shot list if it needs none.' };
}

function notInCut({ shot, from }: ShotRow, doubt: string | undefined): LeftOut {
  if (doubt === undefined) return { shot, kind: 'not-in-cut', why: `${from}: in the shot list, not in this cut.`, remedy: 'Nothing, if the cut is right.' };
  return { shot, kind: 'untied', why: `${from}: in the shot list; cannot tell whether it is in this cut: ${doubt}.`, remedy: 'Put the cut right, then turn over again.' };
}
