/** The part of the `timecode` package that is used: it carries no types of its own. */
declare module 'timecode' {
  interface Counted {
    readonly frame_count: number;
    toString(): string;
  }
  export const Timecode: {
    init(args: { readonly framerate: string; readonly timecode: string | number; readonly drop_frame: boolean }): Counted;
  };
}
