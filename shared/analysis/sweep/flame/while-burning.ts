import type { StateSpan } from '../../../burner-state/track.ts';
import { burns, gasOffStretches, isOpened, isUnseen, steepestFall } from './gas-off.ts';
import { lossesWithGasOn } from './losses-with-gas-on.ts';
import { pressureAt, type PressureGrid } from '../series/pressure-grid.ts';
import { keepWhere, runsWhere, type Series, typicalStep } from '../series/series.ts';
import { firstIndexWhere } from '../../../numerics/search.ts';

/** Why a reading of the signal is not one of a flame that burns or is being lost. */
export const notBurningReasons = ['idle', 'gasShut', 'relighting', 'unlit', 'meterTrouble'] as const;
export type NotBurning = (typeof notBurningReasons)[number];

/** Which readings of the signal show a flame that burns or is being lost, and what cannot be told of the others. */
export interface WhileBurning {
  /** 1 keeps a reading. */
  keep: Uint8Array;
  /** 1 for a reading left out because a meter is in trouble: the flame may burn. */
  inTrouble: Uint8Array;
  /** How many were left out, by reason. */
  leftOut: Record<NotBurning, number>;
  /** Times at which it cannot be told whether the valve shut or the flame was lost, in seconds. */
  unclear: number[];
}

/** Seconds after a flame is seen again that are left out: the longest lag of detector and meter (common practice: 3 s). */
export const settleS = 3;
/** Readings before the shutting is seen that are left out, seconds: a manometer of two readings a second shows it so late. */
const beforeS = 0.5;
/** So long after its loss a flame shows how its signal falls, seconds: three times the longest lag. What follows is gas unlit. */
const fallS = 10;
/** A flame that lights while the pressure moves by less than this share was lit by a spark, not by the pressure. */
const restShare = 0.03;
/** Longest time from gas to flame, seconds (common practice: trials for ignition of 10 and 15 s). */
const trialS = 15;
/** A fall of the pressure to less than this share within a second, at the very loss of the flame, may be a valve. */
const suspectJump = 0.75;
/** So long before the loss is seen the valve that made it may have shut, and so long after it a manometer with a lag of 2 s shows it, seconds. */
const seenLateS = 2.5;
const stillUpS = 0.75;
/** A meter that shows the same for less than this, seconds, may be right: a plateau at the top of an amplifier, a dark without noise. */
const troubleS = 10;

/**
 * Sorts the readings of the signal by what the burner did: kept are those with gas flowing and a flame that burns or is being lost. A
 * loss with gas left on stays in while the signal falls, and until it burns again where it does so by itself.
 *
 * @param pressure, grid  of the whole capture
 * @param signal  readings of the sweep; times in the capture's seconds
 * @param fanOnly  the entered fan-only pressure, in the unit of the pressures
 */
export function whileBurning(
  spans: readonly StateSpan[],
  pressure: Series,
  grid: PressureGrid,
  signal: Series,
  fanOnly: number | undefined,
): WhileBurning {
  const { time } = signal;
  const reasons: (NotBurning | undefined)[] = Array.from({ length: time.length });
  const leaveOut = (fromS: number, toS: number, reason: NotBurning) => {
    let i = firstIndexWhere(time.length, (place) => time[place]! >= fromS);
    for (; i < time.length && time[i]! <= toS; i += 1) reasons[i] ??= reason;
  };
  const unclear: number[] = [];
  // What lies before and after the readings of the sweep says nothing about them.
  const inSweep = (fromS: number, toS: number) => fromS < time.at(-1)! && toS > time[0]!;
  const shut = gasOffStretches(spans, pressure, grid, fanOnly).filter(
    ({ evidence, fromS, litS }) => evidence !== 'turned' && inSweep(fromS, litS),
  );
  for (const { fromS, gasBackS, litS, isFirst, evidence } of shut) {
    if (evidence === 'unclear') {
      unclear.push(fromS);
      continue;
    }
    const isIdle = isFirst || litS === Infinity;
    leaveOut(isFirst ? -Infinity : fromS - beforeS, gasBackS, isIdle ? 'idle' : 'gasShut');
    leaveOut(gasBackS, litS + settleS, 'relighting');
  }
  for (const { fromS, toS, litS, isForGood } of lossesWithGasOn(spans)) {
    if (!inSweep(fromS, litS)) continue;
    if (fromS < time[0]!) {
      // Lost before the sweep began: no pressure of the sweep put it out.
      leaveOut(fromS, toS, 'unlit');
      leaveOut(toS, litS + settleS, 'relighting');
      continue;
    }
    const known = fanOnly !== undefined;
    const mayBeValve =
      steepestFall(pressure, grid, fromS - 1.5, fromS + 1.5) < suspectJump && !staysUp(pressure, grid, fromS);
    if (!known && mayBeValve) {
      unclear.push(fromS);
      leaveOut(fromS - 2 * beforeS, litS + settleS, 'gasShut');
    } else if (isForGood) leaveOut(fromS + fallS, toS, 'unlit');
  }
  leaveOut(-Infinity, litFirstS(spans, pressure, grid) + settleS, 'relighting');
  // However often the regulator's state changes meanwhile.
  for (const [from, to] of runsWhere(spans.length, (i) => spans[i]!.gas !== 'shut' && isUnseen(spans[i]!, 'flame'))) {
    const [fromS, toS] = [spans[from]!.from_s, spans[to - 1]!.to_s];
    if (toS - fromS >= troubleS) leaveOut(fromS, toS, 'meterTrouble');
  }
  const leftOut = { idle: 0, gasShut: 0, relighting: 0, unlit: 0, meterTrouble: 0 };
  for (const reason of reasons) if (reason) leftOut[reason] += 1;
  const readingsWith = (wanted: NotBurning | undefined) => keepWhere(reasons.length, (i) => reasons[i] === wanted);
  return { keep: readingsWith(undefined), inTrouble: readingsWith('meterTrouble'), leftOut, unclear };
}

/** Whether the pressure had not begun to fall so long after a loss that even a slow manometer would show the valve that made it. */
function staysUp(pressure: Series, grid: PressureGrid, lostS: number): boolean {
  const atS = lostS + Math.max(stillUpS, 1.5 * typicalStep(pressure));
  return pressureAt(grid, atS) > suspectJump * pressureAt(grid, lostS - seenLateS);
}

/**
 * When a flame first burned that a spark lit, at rest or soon after a valve opened, where gas was never told to be shut before; -Infinity
 * where none was. Before it nothing burned, so that its dark says nothing of any pressure.
 */
function litFirstS(spans: readonly StateSpan[], pressure: Series, grid: PressureGrid): number {
  const lit = spans.findIndex(burns);
  const lighting = spans.findIndex(({ flame }) => flame === 'lighting');
  if (lighting < 0 || lit < lighting || spans.slice(0, lit).some(({ gas }) => gas === 'shut')) return -Infinity;
  const [lightsS, burnsS] = [spans[lighting]!.from_s, spans[lit]!.from_s];
  const [from, to] = [pressureAt(grid, lightsS - 1), pressureAt(grid, burnsS)];
  const isAtRest = Math.abs(to - from) < restShare * Math.abs(to);
  return isAtRest || isOpened(spans, pressure, grid, lightsS - trialS, burnsS) ? burnsS : -Infinity;
}
