import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseDefaultPipeline, parsePipeline } from '../../src/config/parse-pipeline.ts';
import { UsageError } from '../../src/core/material/errors.ts';
import { defaultConfig } from '../support/default-config.ts';

const defaults = defaultConfig();

function problemsOf(text: string): readonly string[] {
  try {
    parsePipeline(text, 'day03.yaml', defaults);
  } catch (error) {
    if (error instanceof UsageError) return error.problems;
    throw error;
  }
  return [];
}

describe('a pipeline laid over the defaults', () => {
  it('is the defaults when it says nothing', () => {
    expect(parsePipeline('# nothing yet\n', 'built-in default', defaults)).toEqual(defaults);
  });

  it('merges maps key by key', () => {
    const config = parsePipeline('handles: { tail: 16 }\ntolerances: { height_mm: { warn: 5 } }\nmethods: { moco: { sync_assumed: stop } }\n', 'a', defaults);
    expect(config.handles).toEqual({ head: 8, tail: 16 });
    expect(config.tolerances).toEqual({ ...defaults.tolerances, heightMm: { warn: 5, stop: 30 } });
    expect(config.methods['moco']).toEqual({ ...defaults.methods['moco'], syncAssumed: 'stop' });
    expect(config.methods['split']).toEqual(defaults.methods['split']);
  });

  it('adds words to the defaults', () => {
    const config = parsePipeline('slates: { take_words: [go], prefixes: [vfx, B2] }\nrole_words: { clean: [Bare Set] }\nheadings: { lens: [Glass] }\n', 'a', defaults);
    expect(config.slateGrammar.takeWords).toEqual([...defaults.slateGrammar.takeWords, 'go']);
    expect(config.slateGrammar.prefixes).toEqual([...defaults.slateGrammar.prefixes, 'B2']);
    expect(config.roleWords).toContainEqual({ word: 'bare set', role: 'clean' });
    expect(config.roleWords).toHaveLength(defaults.roleWords.length + 1);
    expect(config.headings['glass']).toBe('lens');
    expect(Object.keys(config.headings)).toHaveLength(Object.keys(defaults.headings).length + 1);
  });

  it('lets a crew give a word or a heading another meaning', () => {
    const config = parsePipeline('role_words: { lead: [SIDE B] }\nheadings: { notes: [Board] }\n', 'a', defaults);
    expect(config.roleWords.filter(({ word }) => word === 'side b')).toEqual([{ word: 'side b', role: 'lead' }]);
    expect(config.headings['board']).toBe('notes');
  });

  it('takes a default away where a key is left empty', () => {
    const show = parsePipeline('vendor: Pale Gate\nbase_rate: 25\nshot_list: a.csv\n', 'a', defaults);
    const day = parsePipeline('vendor:\nbase_rate:\nshot_list:\n', 'a', show);
    expect([show.vendor, show.baseRate, show.shotList]).toEqual(['Pale Gate', { num: 25, den: 1 }, 'a.csv']);
    expect([day.vendor, day.baseRate, day.shotList]).toEqual([undefined, undefined, undefined]);
  });

  it.each([
    ['23.976', 24000, 1001],
    ['24000/1001', 24000, 1001],
    ['"29.97"', 30000, 1001],
    ['24', 24, 1],
    ['60000/1001', 60000, 1001],
  ])('reads the base rate %s exactly', (written, num, den) => {
    expect(parsePipeline(`base_rate: ${written}\n`, 'a', defaults).baseRate).toEqual({ num, den });
  });

  it('resolves every path by the rule it is given, and nothing else', () => {
    const text = 'show: s\nmedia: [one, /two]\nout: o\nshot_list: l.csv\ncorrections: c.yaml\nmappings: [m.yaml]\nsheet_template: plain\n';
    const config = parsePipeline(text, 'a', defaults, (path) => (path.startsWith('/') ? path : `/job/${path}`));
    expect(config.media).toEqual(['/job/one', '/two']);
    expect([config.out, config.shotList, config.correctionsFile, config.mappingFiles]).toEqual(['/job/o', '/job/l.csv', '/job/c.yaml', ['/job/m.yaml']]);
    expect([config.show, config.sheetTemplate]).toEqual(['s', 'plain']);
  });

  it('finds nothing under names that every object has', () => {
    expect(defaults.headings['constructor']).toBeUndefined();
    expect(defaults.methods['constructor']).toBeUndefined();
    expect(problemsOf('default_method: constructor\n')).toHaveLength(1);
  });
});

describe('a pipeline that is wrong', () => {
  it('gets every problem of shape at once, each with its place', () => {
    const problems = problemsOf(
      [
        'show: 3', // line 1
        'handels: { head: 2 }',
        'handles:',
        '  head: -1',
        '  tail: 1.5',
        'methods:',
        '  Bad Name: { required: [lead, lad] }',
        'paper: A3',
        'headings: { focal: [x] }',
        'media: here',
      ].join('\n'),
    );
    expect(problems).toEqual([
      expect.stringMatching(/^day03\.yaml:1:7: show: found 3, expected the name of the show\. Write/),
      'day03.yaml:2:1: handels: found an unknown key, expected one of ' +
        'show, media, out, base_rate, handles, min_clean_frames, not_on_record, default_method, methods, tolerances, slates, role_words, headings, mappings, ' +
        'sensor_modes, ambiguity_margin, settle_seconds, vendor, shot_list, cut, shot_codes, shot_code_patterns, first_frame, corrections, sheet_template, paper, sheets, verify_hashes, pictures, proxies. Write "handles", or take it out.',
      expect.stringMatching(/^day03\.yaml:4:9: handles\.head: found -1, expected a whole number of frames, 0 or more\. Write for example head: 8\.$/),
      expect.stringMatching(/^day03\.yaml:5:9: handles\.tail: found 1\.5/),
      expect.stringMatching(/^day03\.yaml:7:3: methods\.Bad Name: found "Bad Name" as a name/),
      expect.stringMatching(/^day03\.yaml:8:8: paper: found "A3", expected A4 or Letter/),
      expect.stringMatching(/^day03\.yaml:9:13: headings\.focal: found an unknown key.* Write "focal_length"/),
      expect.stringMatching(/^day03\.yaml:10:8: media: found "here", expected a list of folders/),
    ]);
  });

  it.each([
    ['methods: { own: { required: [lead, swap] } }', 'methods.own.required.2: found "swap"', 'Write for example swapped.'],
    ['methods: { moco: { sync_assumed: warning } }', 'sync_assumed: found "warning"', 'Write for example sync_assumed: warn.'],
    ['base_rate: 23.98 fps', 'base_rate: found "23.98 fps"', 'Write for example base_rate: 23.976.'],
    ['base_rate: 25p', 'base_rate: found "25p"', 'Write for example base_rate: 25.'],
    ['tolerances: { shift_px: 3 }', 'tolerances.shift_px: found 3', 'Write for example shift_px: { warn: 2, stop: 100 }.'],
    ['tolerances: { height_mm: { stop: -1 } }', 'tolerances.height_mm.stop: found -1', 'Write for example stop: 30.'],
    ['min_clean_frames: 12 frames', 'min_clean_frames: found "12 frames"', 'Write for example min_clean_frames: 12.'],
    ['min_clean_frames: many', 'min_clean_frames: found "many"', 'Write for example min_clean_frames: 24.'],
    ['sheets: no thanks', 'sheets: found "no thanks"', 'Write for example sheets: true.'],
    ['verify_hashes: "yes"', 'verify_hashes: found "yes"', 'Write for example verify_hashes: true.'],
    ['paper: letter', 'paper: found "letter"', 'Write for example paper: Letter.'],
    ['handles: 12', 'handles: found 12', 'Write for example handles: { head: 8, tail: 8 }.'],
  ])('is shown for %s the value that was meant, or the default of that key', (text, found, remedy) => {
    const [problem, ...more] = problemsOf(text);
    expect(more).toEqual([]);
    expect(problem).toContain(found);
    expect(problem).toContain(remedy);
  });

  it('is told of what it contradicts along with what does not fit', () => {
    const text = 'show: 3\ntolerances:\n  height_mm: { warn: 50 }\n  tilt_deg: { warn: steep, stop: 0.01 }\nrole_words: { lead: [bare], clean: [Bare] }\n';
    expect(problemsOf(text).map((problem) => problem.replace(/: found.*/s, ''))).toEqual([
      'day03.yaml:1:7: show', 'day03.yaml:3:14: tolerances.height_mm', 'day03.yaml:4:21: tolerances.tilt_deg.warn', 'day03.yaml:5:37: role_words.clean.1',
    ]);
  });

  it.each([
    ['default_method: own\nmethods: { own: { required: [lead, lad] } }\n', 'methods.own.required.2'],
    ['slates: { suffixes: [ZZ] }\nrole_words: { lead: [ZZ, 3] }\n', 'role_words.lead.2'],
    ['methods: { own: { required: lead } }\n', 'methods.own.required'],
  ])('is told of nothing that only follows from what does not fit: %j', (text, key) => {
    expect(problemsOf(text).map((problem) => /^day03\.yaml:[\d:]+ (.*?): found/.exec(problem)?.[1])).toEqual([key]);
  });

  it.each([
    ['default_method: nope', '1:17', 'found "nope", expected one of split'],
    ['tolerances: { height_mm: { warn: 50 } }', '1:26', 'found warn 50 above stop 30'],
    ['role_words: { lead: [bare], clean: [Bare] }', '1:37', 'found "Bare", which stands under "lead" too'],
    ['slates: { suffixes: [ZZ] }', '1:22', 'found "ZZ", expected a word that names a role'],
    ['headings: { lens: [Take] }', '1:20', 'found "Take", which always means "take"'],
    ['headings: { lens: [Glass], filters: [g-l-a-s-s] }', '1:38', 'found "g-l-a-s-s", which stands for "lens" too'],
    ["headings: { lens: ['#'] }", '1:20', 'found "#"'],
    ['methods: { own: { description: x } }', '1:12', 'found no required pass'],
    ['methods: { split: { wanted: [clean] } }', '1:12', 'found "clean" twice'],
    ['base_rate: 24/0', '1:12', 'found 24/0'],
    ['base_rate: fast', '1:12', 'found "fast", expected a frame rate'],
    ['- a', '1:1', 'found a list, expected a map of settings'],
  ])('is told of %s', (text, at, reason) => {
    const problems = problemsOf(`${text}\n`);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toContain(`day03.yaml:${at}: `);
    expect(problems[0]).toContain(reason);
  });

  it.each([
    ['a key that stands twice', 'show: a\nout: b\nshow: c\n', '3:1'],
    ['a bracket that never closes', 'show: [a\n', '2:1'],
    ['a second document', 'show: a\n---\nshow: b\n', '2:1'],
    ['an unknown tag', 'show: !secret a\n', '1:7'],
  ])('is told of %s in the YAML', (_, text, at) => {
    expect(problemsOf(text)[0]).toMatch(new RegExp(`^day03\\.yaml:${at}: found broken YAML`));
  });

  it('cannot blow up memory with aliases that multiply', () => {
    const layers = Array.from({ length: 12 }, (_, layer) => `l${layer + 1}: &l${layer + 1} [${Array(10).fill(`*l${layer}`).join(', ')}]`);
    expect(problemsOf(['l0: &l0 [x]', ...layers].join('\n'))[0]).toContain('broken YAML');
  });

  it('is not saved by words with spaces round them', () => {
    expect(problemsOf('show: "  "\n')).toHaveLength(1);
    expect(parsePipeline('show: "  Saltmarsh Row "\n', 'a', defaults).show).toBe('Saltmarsh Row');
  });
});

describe('the default pipeline', () => {
  it('leaves nothing open', () => {
    const text = readFileSync(new URL('../../pipelines/default.yaml', import.meta.url), 'utf8');
    expect(() => parseDefaultPipeline(text)).not.toThrow();
    expect(() => parseDefaultPipeline(text.replace('min_clean_frames: 24', ''))).toThrow(/min_clean_frames: found nothing/);
    expect(() => parseDefaultPipeline(text.replace('height_mm: { warn: 2, stop: 30 }', 'height_mm: { warn: 2 }'))).toThrow(/tolerances\.height_mm\.stop: found nothing/);
    expect(() => parseDefaultPipeline(text.replace('  style: either', ''))).toThrow(/slates\.style: found nothing/);
  });

  it('names every gap of an empty file', () => {
    expect(() => parseDefaultPipeline('')).toThrow(/show: found nothing[\s\S]*sheets: found nothing/);
  });

  it('knows the six methods and what each needs', () => {
    const needs = Object.fromEntries(Object.entries(defaults.methods).map(([name, { required }]) => [name, required.join(' ')]));
    expect(needs).toEqual({
      split: 'lead swapped clean',
      moco: 'lead swapped clean',
      handheld: 'lead swapped clean',
      'screen-element': 'lead clean element',
      'head-replacement': 'lead swapped clean reference',
      'digital-double': 'lead clean reference',
    });
    expect(Object.values(defaults.methods).filter(({ movingCamera }) => movingCamera).map(({ name }) => name)).toEqual(['moco', 'handheld']);
    expect(Object.values(defaults.methods).filter(({ repeatedMove }) => repeatedMove).map(({ name }) => name)).toEqual(['moco']);
  });

  it('marks every tolerance as common practice without a source', () => {
    const text = readFileSync(new URL('../../pipelines/default.yaml', import.meta.url), 'utf8');
    const block = /^tolerances:\n((?: .*\n)+)/m.exec(text)?.[1] ?? '';
    const entries = block.split('\n').filter((line) => /^ {2}[a-z]/.test(line));
    expect(entries).toHaveLength(Object.keys(defaults.tolerances).length);
    expect(entries.filter((line) => !line.endsWith('# common practice, no source'))).toEqual([]);
  });

  it('carries a role word for every slate suffix', () => {
    const words = new Set(defaults.roleWords.map(({ word }) => word));
    expect(defaults.slateGrammar.suffixes.filter((suffix) => !words.has(suffix.toLowerCase()))).toEqual([]);
  });
});

describe('the example pipeline', () => {
  it('is one a crew can run', () => {
    const config = parsePipeline(readFileSync(new URL('../../pipelines/example.yaml', import.meta.url), 'utf8'), 'example.yaml', defaults);
    expect(config.show).toBe('Saltmarsh Row');
    expect(config.methods['mirror-split']?.references).toEqual(['grey ball in the mirror']);
    expect(config.tolerances.whiteBalanceK).toEqual({ warn: 50, stop: 1000 });
    expect(config.headings['lenstofloor']).toBe('cameraHeight');
  });
});
