/** Folders that hold no media of the day: hash lists, what gemel wrote, and what operating systems and file servers keep. Lower case. */
const FOLDERS = new Set(['ascmhl', 'gemel-out', 'lost+found', 'system volume information', '$recycle.bin', '@eadir', '__macosx']);

/** Files and folders that operating systems leave behind, and all that is hidden (`.DS_Store`, `._A003C012.mov`, `.Trashes`). */
export function isClutter(name: string): boolean {
  const lower = name.toLowerCase();
  return name.startsWith('.') || lower === 'thumbs.db' || lower === 'desktop.ini';
}

/** Whether a folder of this name is not walked into. */
export function isPassedOver(folderName: string): boolean {
  return FOLDERS.has(folderName.toLowerCase());
}
