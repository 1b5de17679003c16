import type { OpticsSettings } from '../../src/core/checks/clip-optics.ts';
import { opticsSettings } from '../../src/core/checks/clip-optics.ts';
import { defaultConfig } from './default-config.ts';

/** The settings figures of a clip rest on, as shipped: limits of the default pipeline, sensor modes of its table. */
export function defaultOptics(): OpticsSettings {
  return opticsSettings(defaultConfig());
}
