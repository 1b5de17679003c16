/** A clip's identity: its `file`. Unique within a day, the same on every machine, and readable. */
export type ClipId = string;
