import type { Config } from './resolved.ts';
import { table } from './table.ts';

const NONE = { warn: 0, stop: 0 };

/** What the default pipeline is laid over: nothing. Every value here is overwritten, which `findGaps` makes sure of. */
export const BLANK: Config = {
  from: '',
  show: '',
  media: [],
  out: '',
  baseRate: undefined,
  handles: { head: 0, tail: 0 },
  minCleanFrames: 0,
  defaultMethod: '',
  methods: table([]),
  tolerances: {
    focalLengthPercent: NONE,
    focusDioptre: NONE,
    stopStops: NONE,
    ndStops: NONE,
    shutterDeg: NONE,
    eiStops: NONE,
    whiteBalanceK: NONE,
    heightMm: NONE,
    tiltDeg: NONE,
    rollDeg: NONE,
    distanceMm: NONE,
    sourcesPercent: 0,
    lengthFrames: 0,
  },
  slateGrammar: { style: 'either', skippedLetters: '', prefixes: [], suffixes: [], takeWords: [], pickUpWords: [], seriesWords: [], forWords: [] },
  roleWords: [],
  headings: table([]),
  mappingFiles: [],
  mappings: [],
  sensorModeFiles: [],
  sensorModes: [],
  ambiguityMargin: 0,
  settleSeconds: 0,
  vendor: undefined,
  shotList: undefined,
  correctionsFile: undefined,
  corrections: [],
  sheetTemplate: '',
  paper: undefined,
  sheets: true,
};
