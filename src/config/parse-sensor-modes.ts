import { z } from 'zod';
import { UsageError } from '../core/material/errors.ts';
import type { SensorMode } from '../core/optics/sensor-mode.ts';
import { explainYaml, formatProblem } from './explain.ts';
import { readYaml } from './yaml-text.ts';

const text = z.string().trim().min(1);
const pixels = z.int().min(1).max(100_000).meta({ description: 'a whole number of pixels', examples: [4448] });
const millimetres = z.number().min(0.1).max(1000).meta({ description: 'a size in mm', examples: [36.7] });

const sensorMode = z
  .strictObject({
    models: z
      .array(text.meta({ description: 'a name of the camera as files give it', examples: ['Example Cine 4'] }))
      .min(1)
      .meta({ description: 'a list of names of the camera', examples: [['Example Cine 4']] }),
    mode: text.meta({ description: 'the name of the mode', examples: ['open gate'] }),
    raster: z.tuple([pixels, pixels]).meta({ description: 'width and height of the recorded picture in px', examples: [[4448, 3096]] }),
    area: z.tuple([millimetres, millimetres]).meta({ description: 'width and height of the sensor part in mm', examples: [[36.7, 25.54]] }),
    source: text.meta({ description: 'who published the size', examples: ['data sheet of the camera, 2024'] }),
  })
  .meta({ description: 'a map with models, mode, raster, area and source', examples: [{ mode: 'open gate' }] });

const sensorModes = z
  .strictObject({ modes: z.array(sensorMode).meta({ description: 'a list of modes', examples: [[{ mode: 'open gate' }]] }) })
  .meta({ description: 'a map with modes', examples: [{ modes: [] }] });

/**
 * A table of sensor modes. The order of the file does not matter.
 * @throws {UsageError} naming every problem at once, each with line and column.
 */
export function parseSensorModes(yamlText: string, from: string): readonly SensorMode[] {
  const yaml = readYaml(yamlText);
  const faults = explainYaml(sensorModes, yaml);
  if (faults.length > 0) throw new UsageError(faults.map((fault) => formatProblem(from, fault)));
  return sensorModes.parse(yaml.value).modes.map(({ models, mode, raster: [widthPx, heightPx], area: [widthMm, heightMm], source }) => ({
    models, mode, widthPx, heightPx, area: { widthMm, heightMm }, source,
  }));
}
