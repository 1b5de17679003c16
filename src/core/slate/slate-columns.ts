import type { SlateGrammar } from './grammar.ts';
import type { UnreadableSlate } from './parse-slate.ts';
import { isSlate, parseSlate, parseTake } from './parse-slate.ts';
import type { Slate } from './slate.ts';

/** The cells of one row, or the fields of one camera, that make up a slate. */
export interface SlateColumns {
  readonly slate?: string;
  readonly scene?: string;
  readonly setup?: string;
  readonly take?: string;
}

/**
 * The slate of separate columns. A slate cell names scene and set-up by itself (it may leave the take to its own column); without
 * one, scene and set-up are joined. Undefined when no column names scene, set-up or slate.
 */
export function slateFromColumns(columns: SlateColumns, grammar: SlateGrammar): Slate | UnreadableSlate | undefined {
  const board = boardOf(columns, grammar);
  if (board === undefined || !isSlate(board) || columns.take === undefined) return board;
  const take = parseTake(columns.take, grammar);
  if (take === undefined) return { reason: `"${columns.take}" is no take` };
  if (board.take !== undefined && board.take !== take.take) return { reason: `the slate says take ${board.take}, the take column ${take.take}` };
  return { ...board, take: take.take, pickUp: board.pickUp || take.pickUp, series: board.series || take.series };
}

function boardOf({ slate, scene, setup }: SlateColumns, grammar: SlateGrammar): Slate | UnreadableSlate | undefined {
  if (slate !== undefined) {
    // A "slate" column that holds the set-up letter alone is the set-up of its scene.
    const lettersOnly = scene !== undefined && /^[A-Za-z]{1,2}$/u.test(slate.trim());
    return lettersOnly ? parseSlate(`${scene.trim()}${slate.trim()}`, grammar) : parseSlate(slate, grammar);
  }
  if (scene === undefined) return setup === undefined ? undefined : parseSlate(setup, grammar);
  if (setup === undefined) return sceneAlone(scene, grammar);
  return joined(scene.trim(), setup.trim(), grammar);
}

/** `27B` in a scene column names the set-up too; `27` alone is scene 27, never a running slate number. */
function sceneAlone(scene: string, grammar: SlateGrammar): Slate | UnreadableSlate {
  const number = decimalScene(scene.trim());
  if (number !== undefined) return bare(number, '', scene.trim());
  const read = parseSlate(scene, grammar);
  return isSlate(read) && read.scene === '' && grammar.style !== 'running' ? { ...read, scene: read.setUp, setUp: '' } : read;
}

function joined(scene: string, setup: string, grammar: SlateGrammar): Slate | UnreadableSlate {
  const number = decimalScene(scene);
  if (/^\d{1,3}$/u.test(setup)) {
    const sceneRead = sceneAlone(scene, grammar);
    if (!isSlate(sceneRead)) return sceneRead;
    const setUp = setup.replace(/^0+(?=\d)/u, '');
    // A set-up that repeats the scene says nothing new; one beside a lettered scene ("27B", "214") is a running number.
    if (sceneRead.setUp !== '') return parseSlate(setup, grammar);
    return setUp === sceneRead.scene ? sceneRead : { ...sceneRead, setUp, text: `${scene} ${setup}` };
  }
  if (/^[A-Za-z]{1,2}$/u.test(setup)) {
    const already = sceneAlone(scene, grammar);
    if (isSlate(already) && already.setUp === setup.toUpperCase()) return already;
    return number === undefined ? parseSlate(`${scene}${setup}`, grammar) : bare(number, setup.toUpperCase(), `${scene}${setup}`);
  }
  return parseSlate(setup, grammar);
}

/** "12.5": only a scene column can say so without doubt. */
function decimalScene(scene: string): string | undefined {
  return /^0*(\d{1,5}\.\d{1,2})$/u.exec(scene)?.[1];
}

function bare(scene: string, setUp: string, text: string): Slate {
  return { scene, setUp, pickUp: false, series: false, prefix: '', suffix: '', text };
}
