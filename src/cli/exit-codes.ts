/** 0: all clear. 1: at least one finding of severity `stop`. 2: the tool could not do its job. */
export const EXIT = { clear: 0, stop: 1, failed: 2 } as const;
