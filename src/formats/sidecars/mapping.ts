import type { Field } from '../../core/material/statement.ts';

/**
 * One sidecar or export mapping: which element, attribute, column or key is which field. Data files in `pipelines/mappings`.
 * `form` says what it maps: `xml` (the default) an XML sidecar, `frames` a table with one row a frame, `clip` a table with one
 * row for the clip, `blocks` text of "key: value" lines.
 */
export interface SidecarMapping {
  readonly name: string;
  readonly form?: 'xml' | 'frames' | 'clip' | 'blocks';
  /** When this mapping applies: local name of the root element, or a heading (a key, for `blocks`) that must be there. */
  readonly root?: string;
  /** Further headings or keys that must all be there too. */
  readonly headings?: readonly string[];
  readonly fields: readonly MappedField[];
}

/**
 * A path such as `VideoFrame@captureFps`, `Item[name=ShutterSpeedAngle]@value` or `Clip/TapeName` in XML, the heading of a
 * column in a table, the key in blocks. `reading` names the value coding (see `readings.ts`), `unit` the unit of a bare
 * number, `with` a second path that completes the value (a unit of its own, a mode, the height of a width).
 */
export interface MappedField {
  readonly field: Field;
  readonly path: string;
  readonly reading?: string;
  readonly unit?: string;
  readonly with?: string;
}
