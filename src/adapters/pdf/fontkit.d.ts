/** The parts of fontkit that gemel uses; the package brings no types of its own. */
declare module 'fontkit' {
  export interface GlyphPosition {
    xAdvance: number;
    yAdvance: number;
    xOffset: number;
    yOffset: number;
  }
  export interface GlyphRun {
    readonly glyphs: readonly object[];
    readonly positions: readonly GlyphPosition[];
    readonly advanceWidth: number;
  }
  export interface Font {
    readonly unitsPerEm: number;
    hasGlyphForCodePoint(codePoint: number): boolean;
    getGlyph(id: number, characters?: readonly number[]): object;
    layout(text: string): GlyphRun;
  }
  export function create(data: Uint8Array): Font;
}
