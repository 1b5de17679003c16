/** A step of a pattern: one sign that fits, any run of signs that fit, or leave to skip so many of the steps that follow. */
type Step =
  | { readonly kind: 'one' | 'run'; readonly fits: (sign: string) => boolean }
  | { readonly kind: 'skip'; readonly count: number };

const ANY = (): boolean => true;
const NO_SLASH = (sign: string): boolean => sign !== '/';
/** Nothing, or anything that ends with a slash. */
const FOLDERS: readonly Step[] = [{ kind: 'skip', count: 2 }, { kind: 'run', fits: ANY }, one('/')];

/**
 * Whether a path fits a glob of git's kind: `*` and `?` stop at "/", `**` between slashes does not. `anywhere` lets it begin below
 * any folder. Time grows with the lengths only, whatever stars a stranger's pattern has.
 */
export function globFits(glob: string, anywhere: boolean): (path: string) => boolean {
  const steps = [...(anywhere ? FOLDERS : []), ...stepsOf(glob)];
  return (path) => {
    let at = follow([0], steps);
    for (const sign of path) {
      const next: number[] = [];
      for (const index of at) {
        const step = steps[index];
        if (step === undefined || step.kind === 'skip' || !step.fits(sign)) continue;
        next.push(step.kind === 'run' ? index : index + 1);
      }
      if (next.length === 0) return false;
      at = follow(next, steps);
    }
    return at.has(steps.length);
  };
}

/** The places that can be reached without another sign. */
function follow(from: readonly number[], steps: readonly Step[]): ReadonlySet<number> {
  const reached = new Set<number>();
  const waiting = [...from];
  for (let index = waiting.pop(); index !== undefined; index = waiting.pop()) {
    if (reached.has(index)) continue;
    reached.add(index);
    const step = steps[index];
    if (step === undefined || step.kind === 'one') continue;
    waiting.push(index + 1);
    if (step.kind === 'skip') waiting.push(index + 1 + step.count);
  }
  return reached;
}

function stepsOf(glob: string): readonly Step[] {
  const steps: Step[] = [];
  for (let at = 0; at < glob.length; ) {
    const [length, found] = nextSteps(glob.slice(at), at === 0);
    steps.push(...found);
    at += length;
  }
  return steps;
}

function nextSteps(rest: string, atStart: boolean): readonly [length: number, steps: readonly Step[]] {
  if (atStart && rest.startsWith('**/')) return [3, FOLDERS];
  if (atStart && rest === '**') return [2, [{ kind: 'run', fits: ANY }]];
  if (rest === '/**') return [3, [one('/'), { kind: 'run', fits: ANY }]];
  if (rest.startsWith('/**/')) return [4, [one('/'), ...FOLDERS]];
  const stars = /^\*+/.exec(rest)?.[0];
  if (stars !== undefined) return [stars.length, [{ kind: 'run', fits: NO_SLASH }]];
  if (rest.startsWith('?')) return [1, [{ kind: 'one', fits: NO_SLASH }]];
  const set = /^\[([!^]?)(\]?(?:\[:\w+:\]|\\[^]|[^\]\\])*)\]/.exec(rest);
  if (set !== null) return [set[0].length, [{ kind: 'one', fits: setFits(set[2] ?? '', set[1] !== '') }]];
  const sign = rest.startsWith('\\') && rest.length > 1 ? signAt(rest, 1) : signAt(rest, 0);
  return [rest.startsWith('\\') && rest.length > 1 ? 1 + sign.length : sign.length, [one(sign)]];
}

function one(wanted: string): Step {
  return { kind: 'one', fits: (sign) => sign === wanted };
}

function signAt(text: string, index: number): string {
  return String.fromCodePoint(text.codePointAt(index) ?? 0);
}

const CLASSES: Readonly<Record<string, RegExp>> = {
  alpha: /[A-Za-z]/, digit: /[0-9]/, alnum: /[A-Za-z0-9]/, upper: /[A-Z]/, lower: /[a-z]/, space: /\s/, xdigit: /[0-9A-Fa-f]/, punct: /[!-/:-@[-`{-~]/, blank: /[ \t]/,
};

function setFits(content: string, negated: boolean): (sign: string) => boolean {
  const parts = [...content.matchAll(/\[:(\w+):\]|(?:\\([^])|([^]))(?:-(?:\\([^])|([^\]])))?/gu)];
  const inside = (sign: string): boolean =>
    parts.some(([, name, escapedFrom, plainFrom, escapedTo, plainTo]) => {
      if (name !== undefined) return CLASSES[name]?.test(sign) === true;
      const from = escapedFrom ?? plainFrom ?? '';
      const to = escapedTo ?? plainTo ?? from;
      return sign >= from && sign <= to;
    });
  return (sign) => sign !== '/' && inside(sign) !== negated;
}
