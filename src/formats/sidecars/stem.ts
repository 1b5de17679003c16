/** Folder of a file relative to the media root; "" for the root. */
export function folderOf(file: string): string {
  return file.includes('/') ? file.slice(0, file.lastIndexOf('/')) : '';
}

/** Endings of media files, left before the export's own: `B001C001_261125_R1ZA.mov.csv`. */
const MEDIA_ENDING = /\.(?:mov|mp4|mxf|mkv|avi|braw|r3d|ari|arx|dng|crm|rmf|exr|dpx|tiff?)$/i;

/** The parts one export is written in: `…_Static.csv` and `…_Frames.csv`, `….static.csv` and `….frames.csv`. */
const EXPORT_PART = /[._ -](?:static|frames|metadata)$/i;

/** Sidecar numbers some cameras put behind the clip's name: `A003C012_261125AGM01.xml` for `A003C012_261125AG`, `C0007M01.XML` for `C0007`. */
const SIDECAR_NUMBER = /^([A-Z]\d{3}C\d{3}_\d{6}[A-Z0-9]{2}|C\d{4})M\d{2}$/i;

/** The base name of the clip a sidecar or export lies beside: its own, without ending and known additions. */
export function stemOfSidecar(file: string): string {
  const name = file.slice(file.lastIndexOf('/') + 1);
  const base = name.replace(/(?<=.)\.[A-Za-z0-9]{1,5}$/, '').replace(EXPORT_PART, '').replace(MEDIA_ENDING, '');
  return SIDECAR_NUMBER.exec(base)?.[1] ?? base;
}
