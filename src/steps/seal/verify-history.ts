import type { Verification } from '../../formats/mhl/verification.ts';
import type { SealPorts } from './seal-folder.ts';

export type VerifyPorts = Pick<SealPorts, 'store' | 'hasher' | 'xml' | 'progress'>;

/** Holds a folder against its ASC MHL history: every generation, the chain, every file, nested histories. Writes nothing. `folder` is absolute. */
export async function verifyHistory(folder: string, ports: VerifyPorts, signal: AbortSignal): Promise<Verification> {
  signal.throwIfAborted();
  throw new Error(`not built yet: ${folder} ${ports.hasher.filesAtOnce}`);
}
