import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { parseSensorModes } from '../../src/config/parse-sensor-modes.ts';
import { parseMapping } from '../../src/config/parse-mapping.ts';
import { parseDefaultPipeline } from '../../src/config/parse-pipeline.ts';
import type { Config } from '../../src/config/resolved.ts';

const PIPELINES = new URL('../../pipelines/', import.meta.url);

/** The default pipeline as shipped, with the shipped mappings and sensor modes. */
export function defaultConfig(): Config {
  const config = parseDefaultPipeline(readFileSync(new URL('default.yaml', PIPELINES), 'utf8'));
  const folder = new URL('mappings/', PIPELINES);
  const names = existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith('.yaml')).toSorted() : [];
  const sensorModes = parseSensorModes(readFileSync(new URL('sensor-modes.yaml', PIPELINES), 'utf8'), 'sensor-modes.yaml');
  return { ...config, sensorModes, mappings: names.map((name) => parseMapping(readFileSync(new URL(name, folder), 'utf8'), name)) };
}
