/** Kinds of picture frames are pulled to. */
export const PULL_FORMATS = ['dpx', 'exr', 'tiff', 'png'] as const;
export type PullFormat = (typeof PULL_FORMATS)[number];
