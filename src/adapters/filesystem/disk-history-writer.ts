import { link, mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { HistoryWriter } from '../../ports.ts';

/** Writes histories on disks: beside the name, synced, then put in place in one step; the folder is synced too. */
export class DiskHistoryWriter implements HistoryWriter {
  async write(path: string, bytes: Uint8Array, replace: boolean): Promise<void> {
    const folder = dirname(path);
    await mkdir(folder, { recursive: true });
    const unfinished = `${path}.unfinished-${process.pid}`;
    try {
      const file = await open(unfinished, 'w');
      try {
        await file.writeFile(bytes);
        await file.sync();
      } finally {
        await file.close();
      }
      if (replace) await rename(unfinished, path);
      else await putNew(unfinished, path);
      await syncFolder(folder);
    } finally {
      await rm(unfinished, { force: true }).catch(() => {});
    }
  }
}

/** A link is never made over a file that is there. Where there are no hard links (exFAT) the name is claimed first. */
async function putNew(unfinished: string, path: string): Promise<void> {
  try {
    await link(unfinished, path);
  } catch (failure) {
    const code = failure instanceof Error && 'code' in failure ? String(failure.code) : '';
    if (!['EPERM', 'ENOSYS', 'ENOTSUP', 'EOPNOTSUPP'].includes(code)) throw failure;
    await (await open(path, 'wx')).close();
    await rename(unfinished, path);
  }
}

/** Not every system can sync a folder; the files are whole all the same. */
async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r').catch(() => undefined);
  await handle?.sync().catch(() => {});
  await handle?.close();
}
