import { describe, expect, it } from 'vitest';
import { isProxyOf } from '../../src/pipeline/stand-ins.ts';
import { makeClip } from '../support/make-clips.ts';

describe('a proxy that stands in for a clip', () => {
  const raw = makeClip('A003_R7QK/A003C012_261125_R7QK.mxf', { frames: 240 });

  it.each([
    ['proxies/A003C012_261125_R7QK.mov', 240],
    ['proxies/a003c012_261125_r7qk_proxy.mp4', 241],
    ['A003C012_261125_R7QK.####.png', 240],
  ])('is known by its name: %s', (file, frames) => {
    expect(isProxyOf(makeClip(file, { frames }), raw)).toBe(true);
  });

  it.each([
    ['another clip of the roll', 'A003C013_261125_R7QK.mov', 240],
    ['a name that only begins alike', 'A003C012_261125_R7QKX.mov', 240],
    ['another length', 'A003C012_261125_R7QK.mov', 200],
  ])('is not %s', (_what, file, frames) => {
    expect(isProxyOf(makeClip(file, { frames }), raw)).toBe(false);
  });
});
