import { UnreachableFileError } from '../../core/material/errors.ts';

const KNOWN: Readonly<Record<string, readonly [reason: string, remedy: string]>> = {
  EACCES: ['reading it is not permitted', 'give the user who runs gemel the right to read it, then run again'],
  EPERM: ['reading it is not permitted', 'give the user who runs gemel the right to read it, then run again'],
  ENOENT: ['it is no longer there', 'wait until the copy has ended, then run again'],
  ENOTDIR: ['it is not a folder', 'give the folder that holds the media'],
  EIO: ['the disk gave a read error', 'copy it again from the card or from another copy; do not erase the card'],
  ELOOP: ['it is a link', 'give the folder the link points to'],
  ENXIO: ['it is not an ordinary file', 'remove it from the media folder'],
  EMFILE: ['the system has no more files to open', 'close other programs or raise the limit of open files (ulimit -n), then run again'],
  ENFILE: ['the system has no more files to open', 'close other programs, then run again'],
  ENAMETOOLONG: ['its name is too long for this system', 'shorten the name of one of its folders'],
  ESTALE: ['the network share it lies on has gone', 'connect the share again, then run again'],
};

/** What a failure of the file system means to the person at the desk. Errors that are none of it come back as they are. */
export function explainFailure(failure: unknown): Error {
  if (!(failure instanceof Error)) return new Error(String(failure));
  const code = 'code' in failure && typeof failure.code === 'string' ? failure.code : undefined;
  if (code === undefined || !/^E[A-Z0-9]+$/.test(code)) return failure;
  const [reason, remedy] = KNOWN[code] ?? [`the system answered ${code}`, 'look at the disk or share it lies on, then run again'];
  return new UnreachableFileError(reason, remedy, { cause: failure });
}
