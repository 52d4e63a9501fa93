import { comesIn } from '../model/burner-words.ts';
import { type BurnerNow, shutFor } from './tracker.ts';
import { nothingSeen, rememberSafe, type SafeMemory, type UnlitTime, unseenBefore } from './unlit-time.ts';

/**
 * What must be told at once, full width and with a sound. `flame-lost`: gas flows and the flame that burned is gone; `gas-unlit`: gas
 * flows without a flame for longer than the trial for ignition; `not-shut`: the pressure does not fall although the valve was shut.
 */
export const alarmKinds = ['flame-lost', 'gas-unlit', 'not-shut'] as const;
export type AlarmKind = (typeof alarmKinds)[number];

/** An alarm that is on, since when in seconds of the capture. */
export interface Alarm extends UnlitTime {
  kind: AlarmKind;
  /** The flame was said to be back since, so that its next loss is another alarm. */
  returned?: true;
  /** Which loss it is since gas was last shut, from 1: another one sounds again. */
  count?: number;
  /** The manometer gave no reading then, or one that gas may have shut or flowing: nobody can see whether it flows. */
  gasUnseen?: true;
  /** No meter shows whether a flame burns. */
  flameUnseen?: true;
  /** Gas was on without a flame when an earlier recording was cut off; nothing has shown since that it was shut. */
  interrupted?: true;
}

/** What decides beside the tracker. */
export interface AlarmInput {
  nowS: number;
  now: BurnerNow;
  /** Length of the trial for ignition, seconds. */
  trialSeconds: number;
  /** State of the pilot valve where it is wired; undefined otherwise. */
  valveOpen: boolean | undefined;
}

/** What an alarm needs to know of the step before. */
export interface AlarmMemory {
  alarm: Alarm | undefined;
  /** Since when gas flows and nothing burns; since when the valve is shut and gas flows all the same. */
  unlitSinceS: number | undefined;
  shutSinceS: number | undefined;
  /** Since when hardly anybody doubts that nothing burns. */
  darkSinceS: number | undefined;
  /** Since when the flame is gone and gas is neither likely to be shut nor certain to flow. */
  doubtSinceS: number | undefined;
  /** Since when the readings show a flame, its signal building up or built up. */
  litSinceS: number | undefined;
  /** Gas was on when that was last known, and whether a flame has burned since it came on. */
  gasOn: boolean;
  burned: boolean;
  /** Gas was seen shut before it came on: a flame that burned before anyone watched is not missed. */
  cameOn: boolean;
  /** Since when gas is on that was seen to come on and over which no flame was proved. */
  trialSinceS: number | undefined;
  /** Since when nobody can tell whether a flame burns over it: the signal is that of a spark or of hot walls as well. */
  untoldSinceS: number | undefined;
  safe: SafeMemory;
}

export const noAlarm: AlarmMemory = {
  alarm: undefined,
  unlitSinceS: undefined,
  shutSinceS: undefined,
  darkSinceS: undefined,
  doubtSinceS: undefined,
  litSinceS: undefined,
  gasOn: false,
  burned: false,
  cameOn: false,
  trialSinceS: undefined,
  untoldSinceS: undefined,
  safe: nothingSeen,
};

/**
 * Nothing burns at this probability where a flame is called lost at once, and at the lower one where it is after so many seconds. At nine to
 * one the foot of a self-check's pulse and a gust's dip raised four alarms in eight hours of steady burning, at 0.95 gusts one or two in
 * eleven; a signal that is left over never leaves less doubt. That gas flows need not be as certain: where the fan-only pressure is not
 * known, a low pressure leaves some doubt for as long as it stands.
 */
const darkAtOnce = 0.98;
const darkInTime = 0.95;
const darkForS = 0.6;
/** Nothing is taken to burn at this probability. */
const certain = 0.9;
/** Below this probability of shut gas a flame that is gone is no flame that was shut off. */
const likelyShut = 0.5;
/** Longest time in which the pressure falls after a valve shut, seconds: a tight valve takes tenths, a slow gauge a second or two. */
const fallSeconds = 4;
/** The first readings after a meter's trouble may still be taken for the flame of before, seconds. */
const surelyLitS = 1.5;

/** What is known of gas and flame since gas was last seen shut: kept while the manometer gives no reading. */
function rememberGas({ gasOn, burned, cameOn, alarm }: AlarmMemory, { now, valveOpen }: AlarmInput) {
  const { gas, flame } = now.latest;
  // A wired valve shows what the manometer does not, unless it was seen not to shut.
  const isValveShut = valveOpen === false && alarm?.kind !== 'not-shut';
  if (isShut(now) || (now.pressureTrouble && isValveShut)) return { gasOn: false, burned: false, cameOn: true };
  const burns = flame === 'burning' || flame === 'unsteady';
  // Without a manometer from the start there is no gas to watch.
  const isSeen = Number.isFinite(now.pressureTrouble?.sinceS ?? 0);
  // A manometer is called off over a flame, or what cannot be told from one: its gas counts as on, and the flame as one that can be lost.
  const isOff = now.pressureTrouble?.kind === 'off';
  const isOn = isSeen && (gasOn || comesIn(gas) || burns || isOff);
  return { gasOn: isOn, burned: isOn && (burned || now.burned || isOff), cameOn };
}

const burns = ({ flame }: BurnerNow['moment']): boolean => flame === 'burning' || flame === 'unsteady';
/** A flame is there, be it that its signal still builds up. */
const shows = (moment: BurnerNow['moment']): boolean => burns(moment) || moment.flame === 'lighting';

/**
 * The alarm that stands, with what gas and flame do meanwhile. `seen`: whether the manometer shows that gas flows, and both meters that
 * nothing burns over it; `backSinceS`: since when the flame is back, undefined while it is not.
 */
function followBurner(
  { gasUnseen, flameUnseen, ...alarm }: Alarm,
  seen: { gas: boolean; dark: boolean },
  backSinceS: number | undefined,
): Alarm {
  const { unlitToS, ...dark } = {
    ...alarm,
    ...(gasUnseen && !seen.gas && { gasUnseen }),
    ...(flameUnseen && !seen.dark && { flameUnseen }),
  };
  if (backSinceS === undefined) return dark;
  // Who reads that the flame is back, and mutes, must hear that it is lost again, however soon.
  return { ...dark, returned: true, ...(alarm.unlitFromS !== undefined && { unlitToS: unlitToS ?? backSinceS }) };
}

const isShut = ({ shut }: BurnerNow): boolean => shut > shutFor;

/**
 * The alarm after one more step. It stays until gas is shut, whatever the flame does meanwhile: a flame that came back by itself
 * over unburned gas is no reason to go on. One that was said to be back and is lost again raises another alarm. Gas that was on when the
 * manometer fell silent or froze counts as on.
 */
export function nextAlarm(memory: AlarmMemory, input: AlarmInput): AlarmMemory {
  const { nowS, now, trialSeconds, valveOpen } = input;
  const known = rememberGas(memory, input);
  const gasUnseen = now.pressureTrouble !== undefined;
  const gasIsShut = gasUnseen ? !known.gasOn && valveOpen === false && memory.alarm?.kind !== 'not-shut' : isShut(now);
  const darkSinceS = now.dark > darkInTime ? (memory.darkSinceS ?? nowS) : undefined;
  const isDark = now.dark > darkAtOnce || (darkSinceS !== undefined && nowS - darkSinceS >= darkForS);
  const darkUnseen = gasUnseen && known.gasOn && isDark;
  // Whether it lit cannot be seen: the flame signal meter had given readings and has stopped.
  const flameUnseen =
    Number.isFinite(now.signalTrouble?.sinceS) && now.latest.gas === 'flowing' && known.cameOn && !known.burned;
  const isUnlit = now.unlit > certain || darkUnseen || flameUnseen;
  // A signal that was there before the gas proves no flame, however long it lasts.
  const isUntold =
    !now.signalTrouble && [now.moment, now.latest].every(({ gas, flame }) => comesIn(gas) && flame === 'unknown');
  const untoldSinceS = isUntold && known.cameOn && !known.burned ? (memory.untoldSinceS ?? now.atS) : undefined;
  const isUntoldTooLong = untoldSinceS !== undefined && nowS - untoldSinceS > trialSeconds;
  // A pressure that a hand moves leaves some doubt that gas flows: the time goes on, and what it raises waits until that is sure again.
  const isStillUnlit = memory.unlitSinceS !== undefined && now.dark > certain && now.shut < likelyShut;
  const isTrial = known.gasOn && known.cameOn && !known.burned;
  const trialSinceS = isTrial ? (memory.trialSinceS ?? nowS) : undefined;
  // What only flickered up since gas came on, a spark or a flame that did not hold, does not begin the time anew.
  const unlitSinceS = isUnlit || isStillUnlit ? (memory.unlitSinceS ?? trialSinceS ?? now.atS) : undefined;
  const staysOpen = valveOpen === false && now.latest.gas !== 'shut' && now.latest.gas !== 'unknown';
  const shutSinceS = staysOpen ? (memory.shutSinceS ?? nowS) : undefined;

  const isDoubtful = !gasUnseen && !isUnlit && known.burned && now.dark > darkInTime && now.shut < likelyShut;
  const doubtSinceS = isDoubtful ? (memory.doubtSinceS ?? now.atS) : undefined;
  // A signal that rises and falls again before it proves a flame is none yet: a spark, noise, or a self-check while it builds up.
  // Of one that was proved since gas came on nobody need be sure that it burned: nothing burns now.
  const isGone = now.lost > certain || (known.cameOn && now.unlit > certain);
  const isLost = now.burned && isGone && isDark;
  // It burned when it was last seen, and was not seen to go: whatever went on meanwhile, gas flows now and nothing burns.
  const wentUnseen = isUnlit && !flameUnseen && known.burned && memory.safe.wasBlind && isDark;
  const mayFlow = doubtSinceS !== undefined && nowS - doubtSinceS > fallSeconds;

  const raised: AlarmKind | undefined =
    isLost || mayFlow || wentUnseen || (darkUnseen && known.burned)
      ? 'flame-lost'
      : shutSinceS !== undefined && nowS - shutSinceS > fallSeconds
        ? 'not-shut'
        : (isUnlit && nowS - (unlitSinceS ?? nowS) > trialSeconds) || isUntoldTooLong
          ? 'gas-unlit'
          : undefined;
  // A valve that is open again is no valve that does not shut; one that nobody sees any more may be.
  const isOverruled = memory.alarm?.kind === 'not-shut' && valveOpen === true;
  // What the meters show now outweighs what they showed before the program was cut off.
  const isOutdated = memory.alarm?.interrupted && raised !== undefined;
  const isSeenLit = !isUnlit && now.dark < 0.5 && !now.signalTrouble;
  const showsFlame = isSeenLit && shows(now.latest);
  const litSinceS = showsFlame ? (memory.litSinceS ?? now.atS) : undefined;
  const isSurelyLit = litSinceS !== undefined && nowS - litSinceS > surelyLitS;
  const safe = rememberSafe(memory.safe, nowS, now, { showsFlame: isSurelyLit, showsShut: isShut(now) });
  // A doubt of some tenths of a second is no reason to take back that the flame was seen, nor is gas that is being shut.
  const isShutOff = now.latest.gas === 'closing' || now.latest.flame === 'out';
  const isSaidBack = (isSeenLit || isShutOff) && memory.alarm?.unlitToS !== undefined;
  const backSinceS =
    burns(now.moment) && burns(now.latest) ? litSinceS : isSaidBack ? memory.alarm?.unlitToS : undefined;
  const isLostAgain = memory.alarm?.returned === true && (raised === 'flame-lost' || raised === 'gas-unlit');
  const goesOn = gasIsShut || isOverruled || isOutdated || isLostAgain ? undefined : memory.alarm;
  const unlitFromS = unlitSinceS ?? doubtSinceS ?? untoldSinceS ?? nowS;
  const raise = (kind: AlarmKind): Alarm => ({
    // Gas that a shut valve does not stop stays that, whatever the flame does.
    kind: isLostAgain && memory.alarm?.kind === 'not-shut' ? 'not-shut' : kind,
    sinceS: nowS,
    ...(kind !== 'not-shut' && { unlitFromS, ...unseenBefore(memory.safe, unlitFromS) }),
    ...((gasUnseen || (mayFlow && !isLost)) && { gasUnseen: true }),
    ...((flameUnseen || (isUntoldTooLong && !isUnlit)) && { flameUnseen: true }),
    count: (isLostAgain ? (memory.alarm?.count ?? 1) : 0) + 1,
  });
  const seesGas = !gasUnseen && now.latest.gas === 'flowing' && now.unlit > certain;
  const seen = { gas: seesGas, dark: now.unlit > certain };
  const alarm = goesOn ? followBurner(goesOn, seen, backSinceS) : raised && !gasIsShut ? raise(raised) : undefined;
  return {
    alarm,
    unlitSinceS,
    shutSinceS,
    darkSinceS,
    doubtSinceS,
    litSinceS,
    trialSinceS,
    untoldSinceS,
    safe,
    ...known,
  };
}
