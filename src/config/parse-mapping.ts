import { z } from 'zod';
import { UsageError } from '../core/material/errors.ts';
import { FIELDS, headingOf } from '../core/material/heading.ts';
import { explainYaml, formatProblem } from './explain.ts';
import type { SidecarMapping } from '../formats/sidecars/mapping.ts';
import { present } from './present.ts';
import { readYaml } from './yaml-text.ts';

const text = z.string().trim().min(1);

const FIELD_OF = new Map(FIELDS.flatMap((field) => [[headingOf(field), field] as const, [field, field] as const]));

const mappedField = z.strictObject({
  field: text
    .refine((name) => FIELD_OF.has(name))
    .meta({ description: `one of ${FIELDS.map(headingOf).join(', ')}`, examples: ['sensor_fps'] }),
  path: text.meta({ description: 'the path of an element or attribute, or a column', examples: ['VideoFrame@captureFps'] }),
  reading: text.meta({ description: 'how the value is coded', examples: ['hex-float'] }).optional(),
  unit: text.meta({ description: 'the unit of a bare number', examples: ['ft'] }).optional(),
  with: text.meta({ description: 'the path of what completes the value', examples: ['Lens Distance Unit'] }).optional(),
});

const mapping = z
  .strictObject({
    name: text.meta({ description: 'the name of the mapping', examples: ['example camera sidecar'] }),
    form: z.enum(['xml', 'frames', 'clip', 'blocks']).meta({ description: 'xml, frames, clip or blocks', examples: ['xml'] }).optional(),
    root: text.meta({ description: 'the root element, or a heading that must be there', examples: ['ClipSidecar'] }).optional(),
    headings: z
      .array(text.meta({ description: 'a heading', examples: ['Timecode'] }))
      .meta({ description: 'a list of headings that must all be there', examples: [['Timecode', 'Clip Name']] })
      .optional(),
    fields: z
      .array(mappedField.meta({ description: 'a field and its path', examples: [{ field: 'sensor_fps', path: 'VideoFrame@captureFps' }] }))
      .min(1)
      .meta({ description: 'a list of fields and their paths', examples: [[{ field: 'sensor_fps', path: 'VideoFrame@captureFps' }]] }),
  })
  .meta({ description: 'a map with name, root and fields', examples: [{ name: 'example camera sidecar' }] });

/**
 * A mapping file: which element, attribute or column is which field. Fields go by their canonical headings.
 * @throws {UsageError} naming every problem at once, each with line and column.
 */
export function parseMapping(yamlText: string, from: string): SidecarMapping {
  const yaml = readYaml(yamlText);
  const faults = explainYaml(mapping, yaml);
  if (faults.length > 0) throw new UsageError(faults.map((fault) => formatProblem(from, fault)));
  const { fields, ...whole } = mapping.parse(yaml.value);
  return {
    ...present(whole),
    fields: fields.flatMap(({ field, ...rest }) => {
      const known = FIELD_OF.get(field);
      return known === undefined ? [] : [{ ...present(rest), field: known }];
    }),
  };
}
