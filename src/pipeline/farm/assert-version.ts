import { gemelVersion } from '../assets.ts';

/** @throws {Error} when a job was put up by another version of gemel, which may do it otherwise. */
export function assertVersion(version: string): void {
  if (version !== gemelVersion()) throw new Error(`the job is of gemel ${version}, this worker of ${gemelVersion()}: bring all machines to one version`);
}
