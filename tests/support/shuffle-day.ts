import type { JudgedDay, JudgedSet } from '../../src/core/checks/judged.ts';

/** The same day with every list whose order means nothing in another order; the same seed gives the same order. */
export function shuffledDay(day: JudgedDay, seed: number): JudgedDay {
  const shuffle = shuffler(seed);
  return {
    clips: shuffle(day.clips.map((clip) => ({ ...clip, statements: shuffle(clip.statements), tracks: shuffle(clip.tracks) }))),
    sets: shuffle(day.sets.map((set) => shuffledSet(set, shuffle))),
    unplaced: shuffle(day.unplaced),
    findings: shuffle(day.findings),
  };
}

type Shuffle = <T>(entries: readonly T[]) => T[];

function shuffledSet(judged: JudgedSet, shuffle: Shuffle): JudgedSet {
  const { matched } = judged;
  return {
    ...judged,
    matched: {
      ...matched,
      matches: shuffle(matched.matches.map((match) => ({ ...match, elements: shuffle(match.elements), references: shuffle(match.references) }))),
      proposed: shuffle(matched.proposed),
      leftOver: shuffle(matched.leftOver),
    },
    findings: shuffle(judged.findings), countingLeads: shuffle(judged.countingLeads), needed: shuffle(judged.needed), coverage: shuffle(judged.coverage),
    missingRoles: shuffle(judged.missingRoles), correctionsUsed: shuffle(judged.correctionsUsed), shots: shuffle(judged.shots), marks: shuffle(judged.marks),
  };
}

/** Fisher and Yates, driven by a small linear congruential generator (the constants of Numerical Recipes). */
function shuffler(seed: number): Shuffle {
  let state = seed >>> 0;
  return (entries) => {
    const shuffled = [...entries];
    for (let last = shuffled.length - 1; last > 0; last -= 1) {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      const chosen = state % (last + 1);
      const [a, b] = [shuffled[last], shuffled[chosen]];
      if (a !== undefined && b !== undefined) [shuffled[last], shuffled[chosen]] = [b, a];
    }
    return shuffled;
  };
}
