import { execFileSync } from 'node:child_process';
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { loadConfig } from '../../src/pipeline/load-config.ts';
import { temporaryFolder } from '../support/make-media.ts';

function mediaWith(put: (folder: string) => void): { readonly media: readonly string[]; readonly out: string } {
  const folder = temporaryFolder();
  mkdirSync(join(folder, 'media'));
  put(join(folder, 'media'));
  return { media: [join(folder, 'media')], out: join(folder, 'out') };
}

describe('what is called corrections.yaml among the media', () => {
  it('and is a link is not followed, and said', async () => {
    const { problems, config } = await loadConfig(undefined, mediaWith((folder) => symlinkSync('/etc/passwd', join(folder, 'corrections.yaml'))));
    expect(problems).toMatchObject([{ code: 'unreadable-file', file: 'corrections.yaml', found: 'it is a link' }]);
    expect(config.corrections).toEqual([]);
  });

  it.skipIf(process.platform === 'win32')('and is a pipe nobody writes to holds nothing up', async () => {
    const { problems } = await loadConfig(undefined, mediaWith((folder) => execFileSync('mkfifo', [join(folder, 'corrections.yaml')])));
    expect(problems).toMatchObject([{ code: 'unreadable-file', found: 'it is not an ordinary file' }]);
  });
});

describe('a pipeline file', () => {
  it('may be a link its user named', async () => {
    const over = mediaWith((folder) => writeFileSync(join(folder, 'show.yaml'), 'show: Saltmarsh Row\n'));
    const link = join(over.out, '..', 'linked.yaml');
    symlinkSync(join(over.media[0] ?? '', 'show.yaml'), link);
    expect((await loadConfig(link, over)).config.show).toBe('Saltmarsh Row');
  });

  it('that is a folder, or not there, is refused in words', async () => {
    const over = mediaWith(() => {});
    await expect(loadConfig(over.media[0] ?? '', over)).rejects.toThrow('cannot be read: it is not an ordinary file');
    await expect(loadConfig('/nowhere/show.yaml', over)).rejects.toThrow('the pipeline file /nowhere/show.yaml cannot be read: it is no longer there');
  });
});
