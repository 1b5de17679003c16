import type { Severity } from '../material/finding.ts';
import type { Iris } from '../optics/camera-state.ts';
import type { ExposureBalance } from '../optics/exposure-balance.ts';
import { exposureBalance } from '../optics/exposure-balance.ts';
import { blurLength } from '../optics/motion-blur.ts';
import type { Apart } from './along-take.ts';
import type { Cost, Decision } from './cost.ts';
import { assumed, byStops, pxText, stopsText } from './cost.ts';
import { sharpnessCost } from './focus-cost.ts';
import type { PairOptics } from './pair-optics.ts';
import { compareSeverity, isAbove, severityOfStops } from './severity.ts';

/** Another iris: the light of all settings together, and how deep the picture is sharp. */
export function irisCost(kind: Iris['kind']): (optics: PairOptics, apart: Apart) => Cost {
  return (optics, apart) => {
    const { lead, pass } = optics.camerasAt(apart);
    const [a, b]: [Iris, Iris] = [{ kind, number: apart.lead }, { kind, number: apart.pass }];
    const light = lightOf(optics, exposureBalance({ ...lead, iris: a }, { ...pass, iris: b }), 'irisStops');
    const depth = sharpnessCost(optics, { ...lead, iris: a }, { ...lead, iris: b });
    const told = 'why' in depth ? { words: '', evidence: [`depth of field not compared: ${depth.why}`] } : depth;
    const decided = [light.decided, ...('why' in depth ? [] : [depth.decided])].filter((one) => one !== undefined).reduce(worse, undefined);
    return {
      // What is made up for elsewhere, and as sharp, is still worth a word.
      ...(decided === undefined ? {} : { decided: atLeastNote(decided) }),
      words: [light.words, told.words].filter((part) => part !== '').join(' '),
      evidence: [...light.evidence, ...told.evidence],
    };
  };
}

/** Another neutral density: the light of all settings together. */
export function densityCost(optics: PairOptics): Cost {
  const { lead, pass } = optics.camerasAt({});
  const light = lightOf(optics, exposureBalance(lead, pass), 'ndStops');
  return light.decided === undefined ? light : { ...light, decided: atLeastNote(light.decided) };
}

/** A speed for examples of motion blur, px a frame: a hand that crosses a 4096 px plate in four seconds. */
const EXAMPLE_SPEED = 40;

/** Another shutter: by its angle, for nothing makes up for blur, and by the light of all settings together, whichever is worse. */
export function shutterCost(optics: PairOptics, apart: Apart, byAngle: Decision): Cost {
  const { lead, pass } = optics.camerasAt(apart);
  const light = lightOf(optics, exposureBalance({ ...lead, shutterDeg: apart.lead }, { ...pass, shutterDeg: apart.pass }), 'timeStops');
  const smear = [apart.lead, apart.pass].map((degrees) => pxText(blurLength(EXAMPLE_SPEED, degrees)));
  const words = `What moves ${EXAMPLE_SPEED} px a frame smears ${smear[0]} in the lead and ${smear[1]} in the pass, which no filter undoes.`;
  return { decided: worse(byAngle, light.decided ?? byAngle), words: `${words} ${light.words}`.trim(), evidence: light.evidence };
}

/** What light and development come to together, for differences that are judged by something else. "" when it is not known. */
export function lightText(optics: PairOptics): string {
  const { lead, pass } = optics.camerasAt({});
  const balance = exposureBalance(lead, pass);
  return balance.kind === 'refused' ? '' : sumText(balance);
}

type LightPart = 'irisStops' | 'timeStops' | 'ndStops';

/** The sum of all settings decides; the figure is the share of the one that is told of, and the sum stands in the words. */
function lightOf({ limits }: PairOptics, balance: ReturnType<typeof exposureBalance>, part: LightPart): Cost {
  if (balance.kind === 'refused') return { words: '', evidence: [] };
  const { sensorStops } = balance;
  if (partsText(balance).length === 0) return { words: '', evidence: [] };
  const share = Math.abs(balance[part] ?? sensorStops);
  const unknown = balance.missing.filter((what) => what !== 'EI');
  return {
    ...(isToBlame(balance, share, limits.stops.warn) ? { decided: byStops(severityOfStops(Math.abs(sensorStops), limits.stops), share, limits.stops.warn) } : {}),
    // A difference of one setting alone has been said.
    words: partsText(balance).length < 2 && developedText(balance) === '' ? '' : sumText(balance),
    evidence: assumed([...balance.assumptions, ...unknown.map((what) => `${what} is not on record for both: taken to be alike`)]),
  };
}

/** A setting that hardly differs is not at fault for what another does; small ones that add up all are. */
function isToBlame({ irisStops = 0, timeStops = 0, ndStops = 0 }: ExposureBalance, share: number, warn: number): boolean {
  return isAbove(share, warn) || ![irisStops, timeStops, ndStops].some((stops) => isAbove(Math.abs(stops), warn));
}

/** "Light on the sensor against the lead: iris −1 stop, neutral density +1 stop, together 0 stop." "" when nothing of it differs. */
function sumText(balance: ExposureBalance): string {
  const parts = partsText(balance);
  if (parts.length === 0) return '';
  const sum = parts.length === 1 ? parts.join('') : `${parts.join(', ')}, together ${stopsText(balance.sensorStops)}`;
  return `Light on the sensor against the lead: ${sum}${developedText(balance)}.`;
}

function developedText({ sensorStops, indexStops }: ExposureBalance): string {
  return indexStops === undefined || Math.abs(indexStops) < 0.005 ? '' : `, ${stopsText(sensorStops + indexStops)} once developed as rated`;
}

function partsText({ irisStops, timeStops, ndStops }: ExposureBalance): readonly string[] {
  const parts: readonly (readonly [string, number | undefined])[] = [['iris', irisStops], ['exposure time', timeStops], ['neutral density', ndStops]];
  return parts.flatMap(([what, stops]) => (stops === undefined || Math.abs(stops) < 0.005 ? [] : [`${what} ${stopsText(stops)}`]));
}

function worse(a: Decision | undefined, b: Decision): Decision {
  return a === undefined || rank(b.severity) < rank(a.severity) ? b : a;
}

function rank(severity: Severity | undefined): number {
  return severity === undefined ? 1 : compareSeverity(severity, 'note');
}

function atLeastNote(decided: Decision): Decision {
  return { ...decided, severity: decided.severity ?? 'note' };
}

