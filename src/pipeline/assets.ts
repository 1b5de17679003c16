import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder gemel itself lies in: the one with package.json, whether code runs from `src` or from the built `dist`. */
export function gemelFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'package.json'))) {
    const parent = dirname(folder);
    if (parent === folder) throw new Error('gemel cannot find its own folder: package.json is missing beside it');
    folder = parent;
  }
  return folder;
}

/** The default pipeline every other is laid over. */
export function defaultPipelinePath(): string {
  return join(gemelFolder(), 'pipelines', 'default.yaml');
}

/** Mapping files for sidecars and camera exports that come with gemel. */
export function mappingsFolder(): string {
  return join(gemelFolder(), 'pipelines', 'mappings');
}

/** Sensor sizes of cameras by the raster they record. */
export function sensorModesPath(): string {
  return join(gemelFolder(), 'pipelines', 'sensor-modes.yaml');
}

/** Templates of sheets and repeat cards that come with gemel. */
export function templatesFolder(): string {
  return join(gemelFolder(), 'templates');
}

/** The pipeline of the demonstration day. */
export function demoPipelinePath(): string {
  return join(gemelFolder(), 'pipelines', 'saltmarsh-row.yaml');
}

/** gemel's own version, from package.json. */
export function gemelVersion(): string {
  const manifest: unknown = JSON.parse(readFileSync(join(gemelFolder(), 'package.json'), 'utf8'));
  return typeof manifest === 'object' && manifest !== null && 'version' in manifest ? String(manifest.version) : 'unknown';
}

/** The face burned into reference movies. */
export function burnInFont(): string {
  return createRequire(import.meta.url).resolve('dejavu-fonts-ttf/ttf/DejaVuSansMono.ttf');
}
