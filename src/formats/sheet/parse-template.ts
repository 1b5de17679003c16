import type { Document } from 'yaml';
import type { LineCounter } from 'yaml';
import { isMap, isScalar, isSeq } from 'yaml';
import { UsageError } from '../../core/material/errors.ts';
import { readBoundedYaml } from '../yaml/bounded-yaml.ts';
import type { BoundedYaml } from '../yaml/bounded-yaml.ts';
import type { CardTemplate, SheetTemplate, Template } from './template.ts';
import { CARD_SECTIONS, DEFAULT_CARD_TEMPLATE, DEFAULT_SHEET_TEMPLATE, SHEET_SECTIONS } from './template.ts';

/**
 * A sheet template from its YAML; what it leaves out stands as in the built-in one. `from` names the file in errors.
 * @throws {UsageError} with every problem at once, each with its line.
 */
export function parseSheetTemplate(text: string, from: string): SheetTemplate {
  const page = readPage(text, from);
  const answers = page.map('answers', ['yes', 'no', 'look']);
  const template: SheetTemplate = {
    ...commonParts(page, SHEET_SECTIONS, DEFAULT_SHEET_TEMPLATE),
    question: page.text('question') ?? DEFAULT_SHEET_TEMPLATE.question,
    answers: { ...DEFAULT_SHEET_TEMPLATE.answers, ...answers },
    signatures: page.list('signatures') ?? DEFAULT_SHEET_TEMPLATE.signatures,
    signatureFields: page.list('signature_fields') ?? DEFAULT_SHEET_TEMPLATE.signatureFields,
  };
  page.finish();
  return template;
}

/**
 * A repeat card's template from its YAML, as above.
 * @throws {UsageError} with every problem at once, each with its line.
 */
export function parseCardTemplate(text: string, from: string): CardTemplate {
  const page = readPage(text, from);
  const template = commonParts(page, CARD_SECTIONS, DEFAULT_CARD_TEMPLATE);
  page.finish();
  return template;
}

function commonParts<Section extends string>(page: TemplateReader, sections: readonly Section[], standard: Template<Section>): Template<Section> {
  return {
    paper: page.oneOf('paper', ['A4', 'Letter']) ?? standard.paper,
    accent: page.matching('accent', /^#[0-9a-fA-F]{6}$/, 'a colour such as "#1d4e63" (in quotes)') ?? standard.accent,
    title: page.text('title') ?? standard.title,
    sections: page.listOf('sections', sections) ?? standard.sections,
    headings: { ...standard.headings, ...page.map('headings', sections) },
    caution: page.text('caution') ?? standard.caution,
  };
}

function readPage(text: string, from: string): TemplateReader {
  return new TemplateReader(readBoundedYaml(text), from);
}

/** Reads one value after another and keeps every complaint, so that a template is corrected in one go. */
class TemplateReader {
  readonly #document: Document;
  readonly #lines: LineCounter;
  readonly #from: string;
  readonly #problems: { readonly offset: number; readonly problem: string }[] = [];
  readonly #known = new Set<string>();

  constructor({ document, lines, faults }: BoundedYaml, from: string) {
    this.#document = document;
    this.#lines = lines;
    this.#from = from;
    for (const { offset, message } of faults) this.#complain(offset, message);
    if (faults.length === 0 && document.contents !== null && !isMap(document.contents)) {
      this.#complain(0, 'a template is a list of "name: value" lines');
    }
  }

  text(name: string): string | undefined {
    const node = this.#node(name);
    if (node === undefined) return undefined;
    if (isScalar(node) && typeof node.value === 'string') return node.value;
    return this.#refuse(node, `${name} must be a text`);
  }

  matching(name: string, pattern: RegExp, expected: string): string | undefined {
    const value = this.text(name);
    if (value === undefined || pattern.test(value)) return value;
    return this.#refuse(this.#node(name), `${name} is "${value}", expected ${expected}`);
  }

  oneOf<Choice extends string>(name: string, choices: readonly Choice[]): Choice | undefined {
    const node = this.#node(name);
    return node === undefined ? undefined : this.#choice(node, name, choices);
  }

  list(name: string): readonly string[] | undefined {
    const node = this.#node(name);
    if (node === undefined) return undefined;
    if (!isSeq(node)) return this.#refuse(node, `${name} must be a list`);
    return node.items.flatMap((entry) => (isScalar(entry) && typeof entry.value === 'string' ? [entry.value] : (this.#refuse(entry, `${name}: every entry must be a text`) ?? [])));
  }

  listOf<Choice extends string>(name: string, choices: readonly Choice[]): readonly Choice[] | undefined {
    const node = this.#node(name);
    if (node === undefined) return undefined;
    if (!isSeq(node)) return this.#refuse(node, `${name} must be a list`);
    const chosen = node.items.flatMap((entry) => this.#choice(entry, name, choices) ?? []);
    const twice = chosen.find((choice, index) => chosen.indexOf(choice) !== index);
    return twice === undefined ? chosen : this.#refuse(node, `${name} names "${twice}" twice`);
  }

  map<Key extends string>(name: string, keys: readonly Key[]): Partial<Record<Key, string>> {
    const node = this.#node(name);
    const found: Partial<Record<Key, string>> = {};
    if (node === undefined) return found;
    if (!isMap(node)) return this.#refuse(node, `${name} must be "name: text" lines`) ?? found;
    for (const { key, value } of node.items) {
      const known = this.#choice(key, name, keys);
      if (known === undefined) continue;
      if (isScalar(value) && typeof value.value === 'string') found[known] = value.value;
      else this.#refuse(value ?? key, `${name}, ${known}: must be a text (put words such as yes and no in quotes)`);
    }
    return found;
  }

  /** @throws {UsageError} when anything was wrong, names nobody knows among it. */
  finish(): void {
    const contents = this.#document.contents;
    if (isMap(contents)) {
      for (const { key } of contents.items) {
        const name = isScalar(key) ? String(key.value) : '';
        if (!this.#known.has(name)) this.#refuse(key, `"${name}" is not part of a template; known: ${[...this.#known].toSorted().join(', ')}`);
      }
    }
    if (this.#problems.length === 0) return;
    const sorted = this.#problems.toSorted((a, b) => a.offset - b.offset);
    throw new UsageError(sorted.map(({ offset, problem }) => `${this.#from} line ${Math.max(1, this.#lines.linePos(offset).line)}: ${problem}`));
  }

  #node(name: string): unknown {
    this.#known.add(name);
    const contents = this.#document.contents;
    return isMap(contents) ? (contents.get(name, true) ?? undefined) : undefined;
  }

  #choice<Choice extends string>(node: unknown, name: string, choices: readonly Choice[]): Choice | undefined {
    const value = isScalar(node) ? String(node.value) : '';
    return choices.find((choice) => choice === value) ?? this.#refuse(node, `${name} has "${value}", expected one of ${choices.join(', ')}`);
  }

  #refuse(node: unknown, problem: string): undefined {
    const range = isScalar(node) || isSeq(node) || isMap(node) ? node.range : undefined;
    this.#complain(range?.[0] ?? 0, problem);
    return undefined;
  }

  #complain(offset: number, problem: string): void {
    this.#problems.push({ offset, problem });
  }
}
