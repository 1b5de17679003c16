import { rateFromText } from '../../core/timecode/rate.ts';
import type { TimecodeFormat } from '../../core/timecode/timecode.ts';
import { formatChanges, formatCountSheet } from '../../formats/turnover/count-sheet.ts';
import { formatPullCsv, formatPullEdl } from '../../formats/turnover/pull-list.ts';
import type { ShotFile, ShotPass } from '../../formats/turnover/shot-file.ts';
import { formatShot } from '../../formats/turnover/shot-file.ts';
import { formatShotOtio } from '../../formats/turnover/shot-otio.ts';
import { formatTurnover, TURNOVER_FILE } from '../../formats/turnover/turnover-file.ts';
import type { PulledShot, PullPorts } from './deliver-frames.ts';
import { deliverFrames } from './deliver-frames.ts';
import type { PlannedShot, TurnoverPlan } from './plan-turnover.ts';

/** What was written: files of the package, and the shots as they came out, with what could not be pulled said in each. */
export interface DeliveredTurnover {
  readonly shots: readonly ShotFile[];
  /** Clips whose frames or movies could not be made, and why. */
  readonly failures: readonly string[];
}

/** Writes everything of a turnover but its sheets and its seal into a package being built: frames and movies first, then what describes them. */
export async function deliverTurnover({ turnover, shots }: TurnoverPlan, ports: PullPorts): Promise<DeliveredTurnover> {
  const pulled = await deliverFrames(shots, ports);
  for (const [index, shot] of shots.entries()) {
    ports.signal.throwIfAborted();
    await deliverShot(shot, pulled[index]?.file ?? shot.file, ports);
  }
  const files = pulled.map(({ file }) => file);
  await writeText(ports, 'count-sheet.csv', formatCountSheet(files, turnover));
  await writeText(ports, 'changes.csv', formatChanges(turnover));
  await writeText(ports, TURNOVER_FILE, formatTurnover(turnover));
  return { shots: files, failures: pulled.flatMap(({ failures }: PulledShot) => failures) };
}

async function deliverShot({ folder, clocks }: PlannedShot, file: ShotFile, ports: PullPorts): Promise<void> {
  const rate = file.rate === null ? undefined : rateFromText(file.rate);
  await writeText(ports, `${folder}/shot.json`, formatShot(file));
  const startOf = ({ clip }: ShotPass): number => (clocks[clip]?.perFrame === true ? clocks[clip].start : 0);
  // A timeline needs a rate; 24 stands where the lead states none, and its ranges are whole frames either way.
  await writeText(ports, `${folder}/${folder}.otio`, formatShotOtio(file, rate ?? { num: 24, den: 1 }, startOf));
  const formatOf = ({ clip }: ShotPass): TimecodeFormat | undefined => (clocks[clip]?.perFrame === true ? clocks[clip].format : undefined);
  await writeText(ports, `${folder}/${folder}_pull.csv`, formatPullCsv(file, formatOf));
  const edl = formatPullEdl(file, formatOf);
  if (edl !== undefined) await writeText(ports, `${folder}/${folder}_pull.edl`, edl);
}

async function writeText({ build, encode }: PullPorts, file: string, text: string): Promise<void> {
  await build.write(file, encode(text));
}
