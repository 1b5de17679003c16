import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../src/core/material/finding.ts';
import { FINDING_CODES } from '../../../src/core/material/finding.ts';
import { PLANTED } from './planted-faults.ts';
import type { Scene } from './scene.ts';
import { judgeScene, said, soundScene } from './scene.ts';

/** Codes that other steps raise (reports without clips, unplaced clips), told of in tests of their own. */
const ELSEWHERE = ['unknown-slate', 'unused-row', 'unused-sidecar', 'unreadable-file'];
const CHECKED = ['reading', 'presence', 'coverage', 'rate', 'clock', 'lens', 'camera', 'position'] as const;

describe('a fault planted in a sound set', () => {
  it.each(PLANTED.map((fault) => [fault.code, fault.severity, fault.what, fault] as const))('gives %s as %s and nothing else: %s', (code, severity, _what, fault) => {
    expect(judgeScene(fault.on).findings).toEqual([]);
    const { findings, verdict } = judgeScene(fault.plant(fault.on));
    expect(said(findings)).toEqual([`${code} ${severity}`]);
    expect(verdict).toBe({ stop: 'no', warn: 'look', note: 'yes' }[severity]);
  });

  it('is planted for every code of the checks', () => {
    const codes = CHECKED.flatMap((group) => FINDING_CODES[group]).filter((code) => !ELSEWHERE.includes(code));
    expect([...new Set(PLANTED.map(({ code }) => code))].sort()).toEqual([...codes].sort());
  });
});

const ALONE = PLANTED.filter(({ alone }) => alone === true).filter((fault, place, all) => all.findIndex(({ code }) => code === fault.code) === place);

describe('any number of faults planted together', () => {
  it('give exactly the findings each of them gives alone, and taking one away takes exactly its finding', () => {
    const base = (): Scene => soundScene();
    const aloneFinding = new Map(ALONE.map((fault) => [fault.code, judgeScene(fault.plant(base())).findings]));
    fc.assert(
      fc.property(fc.subarray(ALONE), fc.nat(), (faults, pick) => {
        const planted = faults.reduce((scene, fault) => fault.plant(scene), base());
        const found = judgeScene(planted).findings;
        expect(keyed(found)).toEqual(keyed(faults.flatMap(({ code }) => aloneFinding.get(code) ?? [])));
        if (faults.length === 0) return;
        const removed = faults[pick % faults.length];
        const rest = faults.filter((fault) => fault !== removed);
        const left = judgeScene(rest.reduce((scene, fault) => fault.plant(scene), base())).findings;
        expect(keyed(found.filter(({ code }) => code !== removed?.code))).toEqual(keyed(left));
      }),
      { numRuns: 200 },
    );
  });
});

/** What costs are is left out: light is counted with every setting that differs, height with the tilt that makes up for it, and px not at all through another lens. */
function keyed(findings: readonly Finding[]): readonly string[] {
  return findings.map(({ code, subject }) => [code, ...subject].join(' ')).sort();
}
