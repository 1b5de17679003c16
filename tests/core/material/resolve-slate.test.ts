import { describe, expect, it } from 'vitest';
import { forSlateOf } from '../../../src/core/material/for-slate.ts';
import type { ResolvedSlate } from '../../../src/core/material/resolve-slate.ts';
import { resolveSlate } from '../../../src/core/material/resolve-slate.ts';
import { sayByField } from '../../../src/core/material/trust.ts';
import type { Statement } from '../../../src/core/material/statement.ts';
import { formatSlate, setUpKey } from '../../../src/core/slate/slate.ts';
import type { Facts } from '../../support/make-clips.ts';
import { SLATE_GRAMMAR, statements } from '../../support/make-clips.ts';

const log = (facts: Facts): Statement[] => statements('report', 'log.csv', 'line 4', facts);
const file = (facts: Facts): Statement[] => statements('embedded', 'A003C066.mov', '', facts);

function resolve(...said: readonly Statement[][]): ResolvedSlate {
  return resolveSlate(sayByField(...said), 'C066', SLATE_GRAMMAR);
}

function written({ slate }: ResolvedSlate): string | undefined {
  return slate === undefined ? undefined : formatSlate(slate);
}

function contradicted({ disagreements }: ResolvedSlate): readonly string[] {
  return disagreements.map(({ field, chosen, other }) => `${field}: ${chosen.raw} / ${other.raw}`);
}

describe('the slate of a clip', () => {
  it('is taken whole from the log, never mixed with what the camera says', () => {
    const found = resolve(log({ scene: '27B', take: '3' }), file({ scene: '1', setup: 'A', take: '1' }));
    expect(written(found)).toBe('27B-3');
    expect(contradicted(found)).toEqual(['slate: 27B / 1']);
  });

  it('gets its take from another source when its own leaves it out', () => {
    expect(written(resolve(log({ slate: '27B' }), file({ scene: '27', setup: 'B', take: '3' })))).toBe('27B-3');
    expect(written(resolve(log({ slate: '27B' }), file({ take: '3' })))).toBe('27B-3');
  });

  it('gets no take from a camera that writes its clip number there', () => {
    expect(written(resolve(log({ slate: '27B' }), file({ take: '066' })))).toBe('27B');
    expect(contradicted(resolve(log({ slate: '27B-3' }), file({ take: '066' })))).toEqual([]);
  });

  it('is contradicted by another take or another set-up, not by the scene alone or by a running number', () => {
    expect(contradicted(resolve(log({ slate: '27B-3' }), file({ slate: '27B-4' })))).toEqual(['slate: 27B-3 / 27B-4']);
    expect(contradicted(resolve(log({ slate: '27B-3' }), file({ take: '4' })))).toEqual(['take: 27B-3 / 4']);
    expect(contradicted(resolve(log({ slate: '27B-3' }), file({ scene: '27', take: '3' })))).toEqual([]);
    expect(contradicted(resolve(log({ slate: '214-3' }), file({ scene: '27', take: '3' })))).toEqual([]);
  });

  it('comes from the next source when the log cannot be read, and that is told', () => {
    const found = resolve(log({ slate: 'B27-' }), log({ scene: 'twenty' }), file({ slate: '27B-3' }));
    expect(written(resolve(log({ slate: 'twenty' }), file({ slate: '27B-3' })))).toBe('27B-3');
    expect(found.problems).toEqual([]);
    expect(resolve(log({ slate: 'twenty' })).problems).toMatchObject([{ code: 'unreadable-value', file: 'log.csv', place: 'line 4, column slate', found: 'twenty' }]);
  });

  it('with a letter that set-ups do not use is read, and told', () => {
    const found = resolve(log({ slate: '27I-3' }));
    expect(written(found)).toBe('27I-3');
    expect(found.problems[0]?.expected).toContain('I is not used as a set-up letter here');
  });
});

describe('the slate a clip is for', () => {
  function forWhat(facts: Facts, own?: Facts): string | undefined {
    const { slate } = own === undefined ? { slate: undefined } : resolve(log(own));
    const found = forSlateOf(sayByField(log(facts)), slate, SLATE_GRAMMAR, (key) => ['27B', '214', '10'].includes(key)).slate;
    return found === undefined ? undefined : `${setUpKey(found)}${found.take === undefined ? '' : ` take ${found.take}`}`;
  }

  it.each<[Facts, string | undefined]>([
    [{ forSlate: '27B' }, '27B'],
    [{ forSlate: 'for 27B tk 2' }, '27B take 2'],
    [{ forSlate: '99Z' }, '99Z'],
    [{ notes: 'for 27B' }, '27B'],
    [{ notes: 'Clean plate, for 27b-3, no double' }, '27B take 3'],
    [{ notes: 'plate for 99Z' }, '99Z'],
    [{ notes: 'for 99Z' }, undefined],
    [{ notes: 'for slate 214' }, '214'],
    [{ notes: 'for 214.' }, '214'],
    [{ notes: 'hold for 10 seconds' }, undefined],
    [{ notes: 'ran for 5s' }, undefined],
    [{ notes: 'not for 27B' }, undefined],
    [{ notes: 'before 27B' }, undefined],
    [{ notes: 'for 27 a second time' }, undefined],
    [{ notes: 'form 27B' }, undefined],
  ])('of %j is %s', (facts, expected) => {
    expect(forWhat(facts)).toBe(expected);
  });

  it('is nothing when it is its own', () => {
    expect(forWhat({ forSlate: '27B' }, { slate: '27B-3' })).toBeUndefined();
  });

  it('of a cell that names several is the first, and that is told', () => {
    const found = forSlateOf(sayByField(log({ forSlate: '27B and 27C' })), undefined, SLATE_GRAMMAR, () => true);
    expect(found.slate).toMatchObject({ setUp: 'B' });
    expect(found.problems).toMatchObject([{ found: '27B and 27C' }]);
  });

  it('of a cell that cannot be read is told', () => {
    const found = forSlateOf(sayByField(log({ forSlate: 'the big one' })), undefined, SLATE_GRAMMAR, () => true);
    expect([found.slate, found.problems.length]).toEqual([undefined, 1]);
  });
});
