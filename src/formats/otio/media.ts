import type { Span, TimeFault } from './time.ts';
import { isFault, readSpan } from './time.ts';
import { record, text, typed } from './schema.ts';
import type { Typed } from './schema.ts';

/** What a clip says of its media. */
export interface Media {
  readonly kind: 'file' | 'sequence' | 'missing' | 'generator';
  /** Path, "/" between folders; a sequence with "#" for its number. */
  readonly file?: string;
  readonly available?: Span;
  readonly firstNumber?: number;
  readonly faults: readonly TimeFault[];
}

/** The active media reference of a clip, of version 1 (one reference) or 2 (several, one of them active). */
export function readMedia({ version, keys }: Typed): Media {
  if (version === 1) return readReference(keys['media_reference']);
  const key = text(keys['active_media_reference_key']) ?? 'DEFAULT_MEDIA';
  const references = record(keys['media_references']) ?? {};
  if (!Object.hasOwn(references, key)) {
    return { kind: 'missing', faults: [{ found: `no media reference "${key}"`, expected: 'the active reference among media_references' }] };
  }
  return readReference(references[key]);
}

function readReference(value: unknown): Media {
  if (value === undefined || value === null) return { kind: 'missing', faults: [] };
  const reference = typed(value);
  if (reference === undefined) return { kind: 'missing', faults: [{ found: 'a media reference without a schema', expected: 'ExternalReference, ImageSequenceReference or MissingReference' }] };
  const range = readSpan(reference.keys['available_range']);
  const available = range === undefined || isFault(range) ? {} : { available: range };
  const faults = isFault(range) ? [range] : [];
  switch (reference.name) {
    case 'ExternalReference': {
      const url = text(reference.keys['target_url']);
      return { kind: 'file', ...(url === undefined ? {} : { file: pathOf(url) }), ...available, faults };
    }
    case 'ImageSequenceReference': return { ...readSequence(reference.keys), ...available, faults: [...faults, ...stepFault(reference.keys)] };
    case 'GeneratorReference': return { kind: 'generator', ...available, faults };
    case 'MissingReference': return { kind: 'missing', ...available, faults };
    default: return { kind: 'missing', ...available, faults: [...faults, { found: `media reference ${reference.name}.${reference.version}`, expected: 'ExternalReference, ImageSequenceReference or MissingReference' }] };
  }
}

function readSequence(keys: Typed['keys']): Pick<Media, 'kind' | 'file' | 'firstNumber'> {
  const base = pathOf(text(keys['target_url_base']) ?? '');
  const padding = Number(keys['frame_zero_padding']);
  const digits = '#'.repeat(Number.isSafeInteger(padding) && padding > 0 && padding < 20 ? padding : 1);
  const folder = base === '' || base.endsWith('/') ? base : `${base}/`;
  const first = keys['start_frame'];
  return {
    kind: 'sequence',
    file: `${folder}${text(keys['name_prefix']) ?? ''}${digits}${text(keys['name_suffix']) ?? ''}`,
    ...(typeof first === 'number' && Number.isSafeInteger(first) ? { firstNumber: first } : {}),
  };
}

function stepFault(keys: Typed['keys']): readonly TimeFault[] {
  const step = keys['frame_step'] ?? 1;
  return step === 1 ? [] : [{ found: `frame_step ${JSON.stringify(step)}`, expected: 'every picture of the sequence (frame_step 1); it is read as such' }];
}

/** The path of a URL. Only `file:` URLs are percent-encoded; anything else is taken as it stands. */
export function pathOf(url: string): string {
  const [, rest] = /^file:(?:\/\/(?:localhost)?)?(.*)$/isu.exec(url) ?? [];
  if (rest === undefined) return url.replaceAll('\\', '/');
  try {
    return decodeURIComponent(rest).replaceAll('\\', '/');
  } catch {
    return rest;
  }
}
