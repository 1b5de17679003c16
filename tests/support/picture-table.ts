/**
 * Prints the table of docs/picture.md: `node tests/support/picture-table.ts` (add `--write` to put it into the page). Every
 * scene is drawn and measured anew; seeds are fixed, so the counts do not change from run to run.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import type { PictureCase } from './picture-case.ts';
import { outcomeOf } from './picture-case.ts';
import { measuringCases } from './picture-cases.ts';
import { materialCases } from './plate-cases.ts';

const page = new URL('../../docs/picture.md', import.meta.url);
const [BEGIN, END] = ['<!-- measured cases: begin -->', '<!-- measured cases: end -->'];

function tableOf(cases: readonly PictureCase[]): string {
  const subjects = [...new Set(cases.map(({ subject }) => subject))];
  const rows = subjects.map((subject) => rowOf(subject, cases.filter((one) => one.subject === subject)));
  return ['| scenes | cases | right | misses | false alarms | too far off | largest error | allowed |', '| --- | --- | --- | --- | --- | --- | --- | --- |', ...rows].join('\n');
}

function rowOf(subject: string, cases: readonly PictureCase[]): string {
  const answers = cases.map((one) => ({ one, answer: one.run() }));
  const count = (wanted: string): number => answers.filter(({ one, answer }) => outcomeOf(one, answer) === wanted).length;
  const errors = answers.flatMap(({ one, answer }) => (one.truth === 'measured' && answer.error !== undefined ? [answer.error] : []));
  const unit = cases.find((one) => one.unit !== undefined)?.unit ?? '';
  const limit = cases.find((one) => one.limit !== undefined)?.limit;
  const largest = errors.length === 0 ? '' : `${Math.max(...errors).toPrecision(2)} ${unit}`;
  return `| ${subject} | ${cases.length} | ${count('right')} | ${count('miss')} | ${count('false alarm')} | ${count('off')} | ${largest} | ${limit === undefined ? '' : `${limit} ${unit}`} |`;
}

const table = tableOf([...measuringCases(), ...materialCases()]);
if (process.argv.includes('--write')) {
  const text = readFileSync(page, 'utf8');
  writeFileSync(page, `${text.slice(0, text.indexOf(BEGIN) + BEGIN.length)}\n${table}\n${text.slice(text.indexOf(END))}`);
} else process.stdout.write(`${table}\n`);
