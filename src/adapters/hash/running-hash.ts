/** A digest that grows with the bytes it is given; `end` answers its text form and leaves it ready for the next bytes. */
export interface RunningHash {
  start(): void;
  add(bytes: Uint8Array): void;
  end(): string;
}
