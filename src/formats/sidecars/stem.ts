import { folderOf } from '../../core/material/clip-names.ts';
import type { Statement } from '../../core/material/statement.ts';

export { folderOf };

/** Endings of media files, left before the export's own: `B001C001_261125_R1ZA.mov.csv`. */
const MEDIA_ENDING = /\.(?:mov|mp4|mxf|mkv|avi|braw|r3d|ari|arx|dng|crm|rmf|exr|dpx|tiff?)$/i;

/** The parts one export is written in: `…_Static.csv` and `…_Frames.csv`, `….static.csv` and `….frames.csv`. */
const EXPORT_PART = /[._ -](?:static|frames|metadata)$/i;

/** Sidecar numbers some cameras put behind the clip's name: `A003C012_261125AGM01.xml` for `A003C012_261125AG`, `C0007M01.XML` for `C0007`. */
const SIDECAR_NUMBER = /^([A-Z]\d{3}C\d{3}_\d{6}[A-Z0-9]{2}|C\d{4})M\d{2}$/i;

/** The base name of the clip a sidecar or export lies beside: its own, without ending and known additions. */
export function stemOfSidecar(file: string): string {
  const base = withoutEnding(file).replace(EXPORT_PART, '').replace(MEDIA_ENDING, '');
  return SIDECAR_NUMBER.exec(base)?.[1] ?? base;
}

/**
 * The stem of an export, unless it names its clip within and its own name is another ("metadata.txt", "lens data 3.csv"): then
 * what it says inside counts.
 */
export function stemUnlessNamed(file: string, statements: readonly Statement[]): { readonly stem?: string } {
  const stem = stemOfSidecar(file);
  const named = statements.find(({ field }) => field === 'file') ?? statements.find(({ field }) => field === 'clip');
  const isNamed = named?.field === 'file' || named?.field === 'clip';
  return isNamed && !stem.toLowerCase().startsWith(named.value.toLowerCase()) ? {} : { stem };
}

/** What the parts of one export have in common ("day/A001" of `day/A001.static.csv`); undefined for a file that is no part. */
export function exportOfPart(file: string): string | undefined {
  return EXPORT_PART.test(withoutEnding(file)) ? `${folderOf(file)}/${stemOfSidecar(file)}` : undefined;
}

function withoutEnding(file: string): string {
  return file.slice(file.lastIndexOf('/') + 1).replace(/(?<=.)\.[A-Za-z0-9]{1,5}$/, '');
}
