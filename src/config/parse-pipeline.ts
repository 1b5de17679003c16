import { UsageError } from '../core/material/errors.ts';
import { dotted, explainYaml, formatProblem, sortProblems } from './explain.ts';
import type { YamlProblem } from './explain.ts';
import { layOver } from './lay-over.ts';
import type { Config } from './resolved.ts';
import { BLANK } from './blank.ts';
import { findContradictions, findGaps } from './judge-written.ts';
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
  refuse(from, explainYaml(writtenPipeline, { ...yaml, value }));
  const written = writtenPipeline.parse(value);
  const config = layOver(written, defaults, from, resolvePath);
  const contradictions = [...(complete ? findGaps(written) : []), ...findContradictions(written, config)];
  refuse(from, sortProblems(contradictions.map(({ path, part, ...rest }) => ({ ...rest, at: yaml.at(path, part), key: dotted(path) }))));
  return config;
}

function refuse(from: string, problems: readonly YamlProblem[]): void {
  if (problems.length > 0) throw new UsageError(problems.map((problem) => formatProblem(from, problem)));
}
