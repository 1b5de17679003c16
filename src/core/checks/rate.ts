import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import type { Tolerances } from '../material/tolerance.ts';
import { indexDifference } from '../optics/exposure.ts';
import type { FrameRate } from '../timecode/rate.ts';
import { rateName, sameRate } from '../timecode/rate.ts';
import type { TimecodeFormat } from '../timecode/timecode.ts';
import { sameFormat } from '../timecode/timecode.ts';
import { figure, isPossible, readAt } from './evidence.ts';
import { lightText, shutterCost } from './light-cost.ts';
import type { SharedNumber } from './number-differs.ts';
import { checkNumber } from './number-differs.ts';
import type { OpticsOfPair } from './pair-optics.ts';
import type { MatchedPasses } from './passes.ts';
import { clipName } from './passes.ts';
import { raise, raiseDifference } from './raise.ts';

/** A lead and its pass must run alike, or no frame keeps its partner: playback rate, sensor rate, timecode counting, shutter. */
export function checkRate(passes: MatchedPasses, tolerances: Tolerances, optics: OpticsOfPair): readonly Finding[] {
  return [...checkFrameRate(passes), ...checkSensorRate(passes, optics), ...checkFormat(passes), ...checkNumber(passes, SHUTTER, tolerances.shutterDeg, optics)];
}

/** The show is cut at one rate; a lead that plays at another is a question for the editor, not a fault between passes. */
export function checkShowRate(lead: Clip, show: FrameRate | undefined): readonly Finding[] {
  if (show === undefined || lead.rate === undefined || sameRate(lead.rate, show)) return [];
  return [
    raise({
      code: 'frame-rate-differs',
      severity: 'warn',
      subject: [lead],
      clip: lead,
      show,
      measured: { value: Number(rateName(lead.rate)), unit: 'fps' },
      allowed: { value: Number(rateName(show)), unit: 'fps' },
      evidence: [rateEvidence(lead, 'fps', lead.rate)],
    }),
  ];
}

function checkFrameRate(passes: MatchedPasses): readonly Finding[] {
  const { lead, pass } = passes;
  if (lead.rate === undefined || pass.rate === undefined || sameRate(lead.rate, pass.rate)) return [];
  return raiseDifference(passes, 'frame-rate-differs', ratesDiffer(passes, 'fps', lead.rate, pass.rate));
}

function checkSensorRate(passes: MatchedPasses, optics: OpticsOfPair): readonly Finding[] {
  const { lead, pass } = passes;
  if (lead.sensorRate === undefined || pass.sensorRate === undefined || sameRate(lead.sensorRate, pass.sensorRate)) return [];
  // A sensor that follows the file's rate is the same fault as the rate itself, already said.
  if (followsFile(lead) && followsFile(pass)) return [];
  const found = ratesDiffer(passes, 'sensorFps', lead.sensorRate, pass.sensorRate);
  return raiseDifference(passes, 'sensor-rate-differs', { ...found, cost: lightText(optics()), severity: looselyWritten(lead.sensorRate, pass.sensorRate) ? 'warn' : 'stop' });
}

function followsFile({ rate, sensorRate }: Clip): boolean {
  return rate !== undefined && sensorRate !== undefined && sameRate(rate, sensorRate);
}

/** Sensor rates of 24 and 24000/1001 are often one rate written two ways: menus and logs say "24" for both (common practice, no source). */
function looselyWritten(a: FrameRate, b: FrameRate): boolean {
  return a.num * b.den * 1000 === b.num * a.den * 1001 || a.num * b.den * 1001 === b.num * a.den * 1000;
}

function ratesDiffer({ lead, pass }: MatchedPasses, field: RateField, leadRate: FrameRate, passRate: FrameRate) {
  return {
    severity: 'stop' as const,
    measured: { value: Number(rateName(passRate)), unit: 'fps' },
    allowed: { value: Number(rateName(leadRate)), unit: 'fps' },
    what: field === 'fps' ? 'frame rate' : 'sensor rate',
    leadText: `${rateName(leadRate)} fps`,
    passText: `${rateName(passRate)} fps`,
    evidence: [rateEvidence(lead, field, leadRate), rateEvidence(pass, field, passRate)],
  };
}

type RateField = 'fps' | 'sensorFps';

/** A rate keeps no source of its own: the statement that says the same, if there is one. */
function rateEvidence(clip: Clip, field: RateField, rate: FrameRate): string {
  const what = field === 'fps' ? 'frame rate' : 'sensor rate';
  const statement = clip.statements.find((one) => (one.field === 'fps' || one.field === 'sensorFps') && one.field === field && sameRate(one.value, rate));
  return statement === undefined ? `${clipName(clip)}, ${what} ${rateName(rate)}` : readAt(clip, what, statement);
}

function checkFormat(passes: MatchedPasses): readonly Finding[] {
  const { lead, pass } = passes;
  if (lead.timecodeFormat === undefined || pass.timecodeFormat === undefined) return [];
  if (sameFormat(lead.timecodeFormat, pass.timecodeFormat)) return [];
  // At another rate labels count otherwise of necessity: `frame-rate-differs` says it.
  if (lead.rate !== undefined && pass.rate !== undefined && !sameRate(lead.rate, pass.rate)) return [];
  const leadText = formatText(lead.timecodeFormat);
  const passText = formatText(pass.timecodeFormat);
  return raiseDifference(passes, 'timecode-format-differs', {
    severity: 'warn',
    measured: { value: passText, unit: '' },
    allowed: { value: leadText, unit: '' },
    what: 'timecode',
    leadText,
    passText,
    evidence: [`${clipName(lead)}, timecode counts ${leadText}`, `${clipName(pass)}, timecode counts ${passText}`],
  });
}

function formatText({ base, drop }: TimecodeFormat): string {
  return `${base} labels a second, ${drop ? 'drop frame' : 'non-drop'}`;
}

const SHUTTER: SharedNumber = {
  code: 'shutter-differs',
  what: 'shutter',
  start: ({ exposure }) => exposure.shutterDeg,
  apart: (lead, pass) => (isPossible(lead, 360) && isPossible(pass, 360) ? Math.abs(pass - lead) : Number.NaN),
  unit: '°',
  decimals: 3,
  text: (degrees) => `${figure(degrees, 2)}°`,
  by: (lead, pass) =>
    `moving things blur ${figure(Math.abs(pass / lead - 1) * 100, 1)} % ${pass > lead ? 'longer' : 'shorter'} and it is ` +
    `${figure(Math.abs(indexDifference(lead, pass)), 2)} stop ${pass > lead ? 'brighter' : 'darker'}`,
  cost: shutterCost,
};
