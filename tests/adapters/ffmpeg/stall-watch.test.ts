import { chmodSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { streamExr } from '../../../src/adapters/ffmpeg/stream-exr.ts';
import { writePictures } from '../../../src/adapters/ffmpeg/write-pictures.ts';
import { temporaryFolder } from '../../support/make-media.ts';

it.skipIf(process.platform === 'win32')('a program that never says anything is stopped, and said to have been', async () => {
  const silent = join(temporaryFolder(), 'silent');
  writeFileSync(silent, '#!/bin/sh\nexec sleep 60\n');
  chmodSync(silent, 0o755);
  const never = new AbortController().signal;
  await expect(streamExr(silent, [], async () => {}, never, 50)).rejects.toThrow('wrote nothing for 50 ms');
  await expect(writePictures(silent, [], ['/nowhere/a.dpx'], async () => {}, never, 50)).rejects.toThrow('wrote nothing for 50 ms');
});
