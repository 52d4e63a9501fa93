import type { AnalysisDetail, AnalysisResult, ComparisonDetail } from '../../shared/model/results/analysis-result.ts';
import type { Capture, Trial } from '../../shared/model/capture.ts';
import type { Reading } from '../../shared/model/reading.ts';

/**
 * One visit with numbers chosen by hand: each is printed once or more, none is another's prefix by chance.
 * The report is tested for printing what it is given, so the numbers need not come from an analysis.
 */
export const result: AnalysisResult = {
  schema: 'pilot-bench/analysis@1',
  pressureUnit: 'inH2O',
  signalUnit: 'V',
  confidence: 0.95,
  readings: { pressure: 983, signal: 491, flagged: 3, rejected: 11 },
  lag_s: { value: 1.137, ci: [0.912, 1.348] },
  plateau: { value: 4.613, ci: [4.592, 4.634] },
  requiredSignal: { value: 4.1517, basis: 'drop-fraction' },
  signalInterval: {
    status: 'bounded',
    low: { value: 1.1342, ci: [1.0911, 1.1749], bounded: true },
    high: { value: 4.0316, ci: [3.9702, 4.0821], bounded: true },
  },
  window: {
    status: 'bounded',
    low: { value: 1.1342, ci: [1.0911, 1.1749], guarded: 1.1837, cause: 'signal' },
    high: { value: 3.4061, ci: [3.4061, 3.8043], guarded: 3.3729, cause: 'light-off' },
  },
  setPoint: {
    value: 2.2783,
    rule: 'equal-pressure',
    provisional: false,
    marginLow: 1.0946,
    marginHigh: 1.0946,
    withinMakerRange: true,
  },
  asLeft: { value: 2.4253, marginLow: 1.2416, marginHigh: 0.9476, decision: 'pass' },
  lightOff: { trials: 12, lit: 10, lowerBound: 0.56189, confidence: 0.95 },
  hysteresis: { pressure: 0.0537 },
  findings: [],
  warnings: [{ code: 'example', message: 'The sweep passed 3.70 inH2O in 2 s; go slower there next time.' }],
};

const logistic = (x: number) => 1 / (1 + Math.exp(-x));
const steady = (p: number) => 0.05 + 4.58 * logistic((p - 0.9) / 0.1) * logistic((4.4 - p) / 0.16);
const wobble = (i: number) => 0.05 * Math.sin(i * 12.9898) * Math.cos(i * 4.1);

/** A sweep from 0.5 up to 5 and back, 245 readings each way, with a deterministic wobble instead of noise. */
function sweep() {
  const n = 490;
  const elapsedS = Float64Array.from({ length: n }, (_, i) => 20 + i * 0.4);
  const pressure = Float64Array.from({ length: n }, (_, i) => 0.5 + 4.5 * (1 - Math.abs(1 - i / 245)));
  const signal = pressure.map((p, i) => steady(p) + wobble(i));
  const direction = Float64Array.from({ length: n }, (_, i) => (i < 240 ? 1 : i < 250 ? 0 : -1));
  return { elapsedS, pressure, signal, direction };
}

export function analysisDetail(over: Partial<AnalysisResult> = {}): AnalysisDetail {
  const grid = Float64Array.from({ length: 120 }, (_, i) => 0.5 + (i * 4.5) / 119);
  return {
    result: { ...result, ...over },
    pairs: sweep(),
    curve: {
      pressure: grid,
      signal: grid.map(steady),
      low: grid.map((p) => steady(p) - 0.04),
      high: grid.map((p) => steady(p) + 0.04),
      model: 'two shoulders',
      residualSd: 0.0342,
    },
    evidence: [
      {
        side: 'low',
        cause: 'signal',
        value: 1.1342,
        ci: [1.0911, 1.1749],
        message: 'Below 1.13 inH2O the flame signal is under the required 4.15 V.',
        sets: true,
      },
      {
        side: 'high',
        cause: 'signal',
        value: 4.0316,
        ci: [3.9702, 4.0821],
        message: 'Above 4.03 inH2O the flame signal is under the required 4.15 V.',
        sets: false,
      },
      {
        side: 'high',
        cause: 'light-off',
        value: 3.4061,
        ci: [3.4061, 3.8043],
        message: 'It lit at 3.41 inH2O and failed to light at 3.80 inH2O.',
        sets: true,
      },
    ],
    testedRange: [0.5, 5],
    noise: { plateauSd: 0.0211 },
    conformance: { probability: 0.98765 },
    explanation: {
      model: 'two shoulders',
      stop: 'the fit converged',
      converged: true,
      fitted: 486,
      independent: 171.3,
      residualSd: 0.0342,
      misfit: 0.0163,
      selfCheck: { periodS: 10.2, widthS: 0.6, pulses: 17 },
      leftOut: {
        flagged: 3,
        spikes: 9,
        wrongTime: 2,
        selfCheck: 51,
        idle: 0,
        gasShut: 0,
        relighting: 0,
        unlit: 0,
        meterTrouble: 0,
        dropOut: 0,
        pressureUnknown: 0,
      },
      hysteresis: -0.0537,
      drift: { change: 0.0713, ci: [0.0127, 0.1536], confidence: 0.99, overS: 143.2 },
      stepResponse: { settleS: 1.43, turns: 5, band: 0.05, overshoot: 0.127 },
    },
  };
}

const trials: Trial[] = [1.3, 1.8, 2.28, 2.28, 2.28, 2.28, 2.8, 3.1, 3.4061, 2.28, 3.8043, 4.2].map((pressure, i) => ({
  pressure,
  unit: 'inH2O',
  sparkDelayS: i >= 8 ? 5 : 0,
  lit: pressure < 3.5,
  ...(pressure < 3.5 && { timeToProveS: 2.1 + i / 10 }),
  elapsedS: 240 + i * 70,
}));

export function visit(over: Partial<Capture> = {}): Capture {
  const { elapsedS, pressure, signal } = sweep();
  const readings: Reading[] = [];
  elapsedS.forEach((t, i) => {
    const p = (pressure[i] as number).toFixed(2);
    const s = (signal[i] as number).toFixed(3);
    readings.push({
      role: 'pilot_pressure',
      unit: 'inH2O',
      elapsedS: t,
      value: Number(p),
      raw: p,
      line: readings.length + 1,
    });
    readings.push({
      role: 'flame_signal',
      unit: 'V',
      elapsedS: t + 0.1,
      value: Number(s),
      raw: s,
      line: readings.length + 1,
    });
  });
  return {
    id: 'visit-0001',
    startedAt: '2026-03-11T08:15:30.500+01:00',
    technician: 'Ida Brandl',
    burner: {
      site: 'Ashmere Laundry, boiler house',
      name: 'Boiler 2',
      burnerModel: 'Invented 300',
      serialNumber: 'B2-7781',
      pilotModel: 'interrupted pilot',
      flameDetector: 'ultraviolet, self-checking',
      gas: 'natural gas',
    },
    meters: [
      { port: '/dev/ttyUSB0', profile: 'Manometer, one number a line' },
      { port: '/dev/ttyUSB1', profile: 'Voltmeter, one number a line' },
    ],
    setup: {
      makerPressureRange: { low: 1.5, high: 4, unit: 'inH2O' },
      minimumSignal: { value: 1.25, unit: 'V' },
      pilotTrialSeconds: 10,
      pressureAccuracy: { percentOfReading: 0.5, absolute: 0.01, unit: 'inH2O' },
      asLeftPressure: { value: 2.4253, unit: 'inH2O' },
    },
    readings,
    lines: readings.map(({ elapsedS, raw, role }, i) => ({
      seq: i + 1,
      elapsedS,
      raw,
      port: role === 'pilot_pressure' ? '/dev/ttyUSB0' : '/dev/ttyUSB1',
      encoding: 'utf8',
    })),
    marks: [
      { elapsedS: 5, kind: 'as-found', text: '3.12 inH2O, 4.58 V' },
      { elapsedS: 18, kind: 'sweep-start', text: '' },
      { elapsedS: 216, kind: 'sweep-end', text: '' },
      ...trials.flatMap((trial) => [
        { elapsedS: trial.elapsedS ?? 0, kind: 'trial-start' as const, text: '' },
        { elapsedS: (trial.elapsedS ?? 0) + 10, kind: 'trial-end' as const, text: trial.lit ? 'lit' : 'not lit' },
      ]),
      { elapsedS: 1102, kind: 'as-left', text: '2.43 inH2O, 4.60 V' },
    ],
    trials,
    notes: [{ at: '2026-03-12T10:00:00Z', by: 'Ida Brandl', text: 'Electrode replaced at 07:50, before this visit.' }],
    ...over,
  };
}

const change = (before: number, after: number, half: number, significant: boolean) => ({
  before,
  after,
  change: after - before,
  ci: [after - before - half, after - before + half] as [number, number],
  significant,
});

export function comparisonDetail(): ComparisonDetail {
  return {
    before: analysisDetail(),
    after: analysisDetail(),
    result: {
      schema: 'pilot-bench/comparison@1',
      pressureUnit: 'inH2O',
      signalUnit: 'V',
      confidence: 0.95,
      lowEdge: change(0.914, 1.1342, 0.06, true),
      highEdge: change(3.4061, 3.4061, 0.1, false),
      plateau: change(4.87, 4.613, 0.04, true),
      windowWidth: change(2.4921, 2.2719, 0.12, true),
      noise: change(0.0188, 0.0211, 0.006, false),
      lag: { before: null, after: 1.137, change: null, ci: null, significant: false },
      oldSetPoint: { value: 2.16, marginLow: 0.98, marginHigh: 1.21, decision: 'pass' },
      summary: [
        'The low end rose by 0.22 inH2O: the pilot needs more gas than before to be seen.',
        'The plateau fell by 0.26 V.',
      ],
      warnings: [],
    },
  };
}

export const made = { madeAt: '2026-03-11T17:02:00+01:00', version: '0.1.0' };
