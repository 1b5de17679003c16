import type { Clock, Hasher, HistoryWriter, PackageStore, Progress, XmlReader } from '../../ports.ts';

/** What holding a folder against its history asks of the world. `xml` must keep namespaces and spaces. */
export interface VerifyPorts {
  readonly store: PackageStore;
  readonly hasher: Hasher;
  readonly xml: XmlReader;
  readonly progress: Progress;
}

/** What writing a generation asks of the world besides. */
export interface SealPorts extends VerifyPorts {
  readonly writer: HistoryWriter;
  readonly clock: Clock;
}
