import type { Retime } from '../../core/material/cut.ts';
import type { TimeFault } from './time.ts';
import { isKnown, list, typed } from './schema.ts';

/** How an item is retimed; a fault where that cannot be worked out. */
export interface Retiming {
  readonly retime?: Retime;
  readonly fault?: TimeFault;
}

/** The retime that the effects of an item make. Effects without a meaning in time are left alone. */
export function readRetime(effects: unknown): Retiming {
  const found = list(effects).map(typed).filter((effect) => effect !== undefined && effect.keys['enabled'] !== false);
  const unknown = found.find((effect) => effect !== undefined && !isKnown(effect));
  if (unknown !== undefined) return { fault: { found: `effect ${unknown.name}.${unknown.version}`, expected: 'LinearTimeWarp or FreezeFrame; whether it changes time is not known' } };
  const timed = found.filter((effect) => effect !== undefined && effect.name !== 'Effect');
  const [first] = timed;
  if (first === undefined) return {};
  if (timed.length > 1) return { fault: { found: `${timed.length} time effects on one item`, expected: 'one: several are not worked out' } };
  if (first.name === 'FreezeFrame') return { retime: { kind: 'freeze', words: 'freeze frame' } };
  if (first.name === 'TimeEffect') return { fault: { found: 'a TimeEffect', expected: 'LinearTimeWarp or FreezeFrame' } };
  const scalar = first.keys['time_scalar'];
  if (typeof scalar !== 'number' || !Number.isFinite(scalar)) return { fault: { found: `time_scalar ${String(scalar)}`, expected: 'a finite number' } };
  if (scalar === 1) return {};
  if (scalar === 0) return { retime: { kind: 'freeze', words: 'freeze frame' } };
  const percent = String(Math.round(Math.abs(scalar) * 10_000) / 100);
  return { retime: { kind: 'speed', ratio: scalar, words: `${percent} % speed${scalar < 0 ? ', reversed' : ''}` } };
}
