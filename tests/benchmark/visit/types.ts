import type { Capture } from '../../../shared/model/capture.ts';
import type { PressureUnit, SignalUnit } from '../../../shared/model/units.ts';

export type Gas = 'shut' | 'opening' | 'flowing' | 'closing' | 'unknown';
export type Flame = 'dark' | 'lighting' | 'burning' | 'unsteady' | 'lost' | 'out' | 'unknown';
export type Regulator = 'at-rest' | 'turning-in' | 'turning-out' | 'settling' | 'unknown';
export type Phase = 'before-gas' | 'trial' | 'held' | 'wait' | 'purge' | 'after' | 'unknown';

export interface States {
  gas: Gas;
  flame: Flame;
  regulator: Regulator;
  phase: Phase;
}
export type StateName = keyof States;

export interface Span {
  from_s: number;
  to_s: number;
}

/** A part of the visit over which all four states stay the same. */
export type Segment = Span & States;

/** A span in which, of one state, each of the `words` is right. `live`: only for an answer given at that moment. */
export interface EitherWay extends Span {
  of: StateName;
  words: string[];
  live?: true;
}

/** The flame went out although gas went on flowing. Times in s from the start of the capture. */
export interface TrueLoss {
  at_s: number;
  pressure: number;
  side: 'low' | 'high' | 'none';
  relitAt_s?: number;
  relitPressure?: number;
  relitBy?: 'itself' | 'spark';
  gasShutAt_s?: number;
  /**
   * Whether the flame was proved before it went out: its signal had reached the minimum signal, or half of the plateau where none is
   * entered. One that flickered up before that belongs to the trial for ignition, which goes on (trade: a control takes in no flame before
   * its signal is proved).
   */
  wasProved: boolean;
  /**
   * See `truth/earliest-detection.ts`; absent: no reading before the flame or the valve came back allowed it. Of a detector that is told
   * curve and lag, and of one that is told besides whether and for how long a shutter closes, which nobody tells the program.
   */
  earliestDetectable_s?: number;
  earliestToldShutter_s?: number;
}

export interface TrueTrial {
  gas_s: number;
  spark_s?: number;
  pressure: number;
  lit: boolean;
  /** When the flame began to burn. */
  ignited_s?: number;
  /** When the noise-free signal reached the minimum signal if one is entered, else 80 % of its steady value. */
  proved_s?: number;
  /** The same moment by other conventions: half of the steady value, 80 % of it. */
  half_s?: number;
  eighty_s?: number;
  /** When it reached half of the plateau: by that a flame is proved where no minimum signal is entered. */
  halfPlateau_s?: number;
  shut_s?: number;
  /** What the capture allows to say: spark wired or typed; `unknown` otherwise. */
  kind: 'plain' | 'delayed' | 'unknown';
}

export interface MeterFault extends Span {
  meter: 'pilot_pressure' | 'flame_signal';
  /** `hose-off`: the manometer shows the open air. `zero-shift` lasts to the end; `by` in the capture's unit. */
  kind: 'silent' | 'frozen' | 'overload' | 'hose-off' | 'zero-shift';
  by?: number;
}

/** Ends of the pressures at which the burner does something; an absent end lies outside what the regulator can set. */
export interface Ends {
  low?: number;
  high?: number;
}

export interface VisitTruth {
  segments: Segment[];
  eitherWay: EitherWay[];
  /** Where every kind of evidence holds: signal, flame coming back by itself where it was lost, light-off. */
  window: Ends;
  /** What the window is made of. `signal`: the steady curve of a burning flame at or above `requiredSignal`. */
  ends: { signal: Ends; lost: Ends; returned: Ends; lightOff: Ends };
  /** Lowest and highest pressure at which the flame burned with gas flowing. */
  tested: Ends;
  requiredSignal: number;
  plateau: number;
  fanOnly: number;
  dark: number;
  losses: TrueLoss[];
  trials: TrueTrial[];
  purges: Span[];
  /** The shutter of a self-checking detector closed. */
  pulses: Span[];
  /** The valve was shut by hand or control and gas went on flowing. */
  leaks: (Span & { rest: number })[];
  meterFaults: MeterFault[];
  /** The fan was confirmed by the technician (marks `air-confirmed`, `air-stopped`), whether or not its pressure is wired. */
  airConfirmed: Span[];
}

export interface Visit {
  kind: string;
  seed: number;
  pressureUnit: PressureUnit;
  signalUnit: SignalUnit;
  capture: Capture;
  durationS: number;
  truth: VisitTruth;
}
