import { UsageError } from '../core/material/errors.ts';
import { dotted, explainYaml, formatProblem, sortProblems } from './explain.ts';
import type { Suggest, YamlProblem } from './explain.ts';
import { layOver } from './lay-over.ts';
import type { Config } from './resolved.ts';
import { BLANK } from './blank.ts';
import { findContradictions, findGaps } from './judge-written.ts';
import { defaultAt, meantRate } from './suggest.ts';
import { validPart } from './valid-part.ts';
import { writtenPipeline } from './written.ts';
import { readYaml } from './yaml-text.ts';

/**
 * A pipeline file laid over the defaults. Maps are merged key by key (methods, tolerances, slates); lists of words (role words,
 * headings, slate words) extend the defaults, and a word given another meaning takes it. Every path goes through `resolvePath`,
 * which the caller makes from the folder of the file; without it paths stay as written.
 * @throws {UsageError} naming every problem at once, each with line and column.
 */
export function parsePipeline(text: string, from: string, defaults: Config, resolvePath: (written: string) => string = (written) => written): Config {
  return parse(text, from, defaults, resolvePath, false);
}

/**
 * The default pipeline: like any other, but it must say everything.
 * @throws {UsageError} naming every problem at once, keys that are missing among them.
 */
export function parseDefaultPipeline(text: string): Config {
  return parse(text, 'built-in default', BLANK, (written) => written, true);
}

function parse(text: string, from: string, defaults: Config, resolvePath: (written: string) => string, complete: boolean): Config {
  const yaml = readYaml(text);
  // A file with nothing but comments asks for the defaults.
  const value: unknown = yaml.value ?? {};
  const suggest: Suggest = (path, found) => (path[0] === 'base_rate' ? meantRate(found) : defaultAt(defaults, path));
  const misfits = explainYaml(writtenPipeline, { ...yaml, value }, suggest);
  // Broken YAML holds no value to look at; a file that only misfits in parts may contradict itself in others.
  const part = yaml.problems.length > 0 ? undefined : validPart(writtenPipeline, value);
  if (part === undefined) throw usageError(from, misfits);
  const written = writtenPipeline.parse(part.value);
  const config = layOver(written, defaults, from, resolvePath);
  const contradictions = [...(complete && misfits.length === 0 ? findGaps(written) : []), ...findContradictions(written, config).filter(({ path }) => !restsOn(path, part.takenOut))];
  const problems = sortProblems([...misfits, ...contradictions.map(({ path, part: where, ...rest }) => ({ ...rest, at: yaml.at(path, where), key: dotted(path) }))]);
  if (problems.length > 0) throw usageError(from, problems);
  return config;
}

/** What a contradiction at one key is judged by besides: it cannot be told while a part of that misfits. */
const RESTS_ON: Readonly<Record<string, readonly string[]>> = { default_method: ['methods'], slates: ['role_words'] };

function restsOn([key = '', name]: readonly PropertyKey[], takenOut: readonly (readonly PropertyKey[])[]): boolean {
  return takenOut.some(([top = '', inner]) => {
    if (top === key) return key !== 'tolerances' || inner === undefined || inner === name;
    return RESTS_ON[String(key)]?.includes(String(top)) === true;
  });
}

function usageError(from: string, problems: readonly YamlProblem[]): UsageError {
  return new UsageError(problems.map((problem) => formatProblem(from, problem)));
}
