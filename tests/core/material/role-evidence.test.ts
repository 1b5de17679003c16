import { describe, expect, it } from 'vitest';
import type { Role, RoleEvidence } from '../../../src/core/material/clip.ts';
import { decideRole, roleConflict, ROLE_WEIGHTS, strongestFirst } from '../../../src/core/material/role-evidence.ts';

function evidence(...list: readonly (readonly [RoleEvidence['kind'], Role])[]): readonly RoleEvidence[] {
  return strongestFirst(list.map(([kind, role]) => ({ role, kind, weight: ROLE_WEIGHTS[kind], words: `${kind} says ${role}` })));
}

describe('evidence for roles', () => {
  it('is weighed in one order: correction, log, slate, note, name, shooting order', () => {
    const kinds = (['order', 'name', 'note', 'slate', 'log', 'correction'] as const).map((kind) => [kind, 'lead'] as const);
    expect(evidence(...kinds).map(({ kind }) => kind)).toEqual(['correction', 'log', 'slate', 'note', 'name', 'order']);
    expect(ROLE_WEIGHTS.order).toBeLessThan(0.5);
  });

  it.each([
    [[['log', 'lead'], ['note', 'clean']], ['log', 'note'], 'lead', 0.5],
    [[['log', 'lead'], ['slate', 'swapped']], ['log', 'slate'], 'lead', 0.5],
    [[['log', 'lead'], ['name', 'clean']], undefined, 'lead', 0.95],
    [[['note', 'lead'], ['name', 'clean']], ['note', 'name'], 'lead', 0.5],
    [[['correction', 'swapped'], ['log', 'lead']], undefined, 'swapped', 1],
    [[['log', 'lead'], ['order', 'clean']], undefined, 'lead', 0.95],
    [[['log', 'lead'], ['log', 'lead']], undefined, 'lead', 0.95],
    [[], undefined, 'unknown', 0],
  ] as const)('%j', (list, conflict, role, roleConfidence) => {
    const found = evidence(...list);
    const between = roleConflict({ roleEvidence: found });
    expect(between === undefined ? undefined : [between.a.kind, between.b.kind]).toEqual(conflict);
    expect(decideRole(found)).toEqual({ role, roleConfidence });
  });

  it('of equal strength for two roles leaves the role unknown', () => {
    const found = evidence(['log', 'lead'], ['log', 'swapped']);
    expect(decideRole(found)).toEqual({ role: 'unknown', roleConfidence: 0 });
    expect(roleConflict({ roleEvidence: found })).toMatchObject({ a: { role: 'lead' }, b: { role: 'swapped' } });
  });
});
