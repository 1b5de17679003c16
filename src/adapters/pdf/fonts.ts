import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { create } from 'fontkit';
import type { Font } from 'fontkit';
import { sharedFont } from './shared-font.ts';
import { unpackWoff } from './unpack-woff.ts';

/** The faces a page is set in. */
export type Face = 'regular' | 'bold';

/** Parsed fonts, kept for all pages of a run: parsing them anew for every page would cost most of its time. */
export interface FontLibrary {
  readonly faces: Readonly<Record<Face, Font>>;
  /** A font of every script, opened only when a letter is met that the faces lack; undefined when it is not installed. */
  readonly fallback: () => Font | undefined;
  /** Widths already measured, in parts of the size, by font and word; the same in every document. */
  readonly widths: Map<string, number>;
}

const FACES: Readonly<Record<Face, string>> = {
  regular: 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf',
  bold: 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf',
};
/** UnifontEX: one plain face for the whole Basic Multilingual Plane and emoji. */
const FALLBACK = '@fontsource/unifontex/files/unifontex-latin-400-normal.woff';

/** Opens the fonts that come with gemel. `fallbackFile` replaces the font of last resort; null goes without one. */
export function openFonts(fallbackFile: string | null = FALLBACK): FontLibrary {
  const require = createRequire(import.meta.url);
  const openFace = (file: string): Font => sharedFont(create(readFileSync(require.resolve(file))));
  let fallback: Font | null | undefined;
  return {
    faces: { regular: openFace(FACES.regular), bold: openFace(FACES.bold) },
    fallback: () => {
      fallback ??= fallbackFile === null ? null : openFallback(require, fallbackFile);
      return fallback ?? undefined;
    },
    widths: new Map(),
  };
}

function openFallback(require: NodeJS.Require, file: string): Font | null {
  let path: string;
  try {
    path = require.resolve(file);
  } catch {
    return null;
  }
  return sharedFont(create(unpackWoff(readFileSync(path))));
}
