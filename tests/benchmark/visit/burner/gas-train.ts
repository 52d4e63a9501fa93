import type { Random } from '../../../../shared/numerics/random.ts';
import { type BurnerFacts, type Hands, stepS } from './facts.ts';

/**
 * Pressure at the pilot's tap: fan, regulator (spring ends, dead band, creep, droop, lock-up, hunting) and valve (travel, filling
 * and emptying of the line, leak). All first-order, inH2O and s.
 */
export function createGasTrain(facts: BurnerFacts, start: { fan: boolean; screw: number }, random: Random) {
  const { regulator, valve, fan } = facts;
  const spring = (screw: number) => Math.min(regulator.springHigh, Math.max(regulator.springLow, screw));
  const phase = 2 * Math.PI * random.uniform();
  const huntingS = 4 + 5 * random.uniform();
  const gain = (seconds: number) => stepS / (stepS + seconds);
  let t = 0;
  let stand = spring(start.screw);
  let [fast, slow] = [stand, stand];
  let fanSpeed = start.fan ? 1 : 0;
  let travel = 0;
  let damper = 0;
  let openings = 0;
  let shuttings = 0;
  let openS = 0;
  let wasOpen = false;
  // Pressure goes with the square of the flow, which goes with the damper's way.
  const moreAir = () => (1 + (Math.sqrt(fan.purgeTimes) - 1) * damper) ** 2;
  const fanOnly = () => fan.only * (1 + fan.drift * Math.sin(t / 97 + phase)) * fanSpeed ** 2 * moreAir();
  let pressure = fanOnly();
  let rest = pressure;

  const step = (hands: Hands) => {
    t += stepS;
    fanSpeed += gain(fan.spinS) * ((hands.fan ? 1 : 0) - fanSpeed);
    damper = Math.min(1, Math.max(0, damper + ((hands.damper ? 1 : -1) * stepS) / fan.damperS));
    const asked = spring(hands.screw);
    stand = Math.min(asked + regulator.hysteresis / 2, Math.max(asked - regulator.hysteresis / 2, stand));
    fast += gain(regulator.followsIn) * (stand - fast);
    slow += gain(regulator.creepS) * (stand - slow);
    if (hands.valve && !wasOpen) {
      openings += 1;
      openS = 0;
    }
    if (!hands.valve && wasOpen) shuttings += 1;
    wasOpen = hands.valve;
    openS += stepS;
    travel = Math.min(1, Math.max(0, travel + (hands.valve ? stepS / valve.openS : -stepS / valve.closeS)));

    const set = (1 - regulator.creep) * fast + regulator.creep * slow;
    const droop = hands.valve ? regulator.droop * (1 - Math.exp(-openS / 40)) : 0;
    const hunted = set * (1 - droop) * (1 + regulator.hunting * Math.sin((2 * Math.PI * t) / huntingS + phase));
    const lockUp = regulator.lockUp * stand * Math.exp(-openS / regulator.lockUpS);
    const kept = shuttings >= valve.leak.fromShut ? valve.leak.share : 0;
    rest = fanOnly() + (hands.valve ? 1 : kept) * (stand - fanOnly());
    const sticks = hands.valve && openings === 1 && openS < regulator.stickyS;
    const open = Math.max(sticks ? 0.35 * travel : travel, kept);
    const target = fanOnly() + open * (hunted + (hands.valve ? lockUp : 0) - fanOnly());
    const slowFall = !hands.valve && shuttings >= valve.leak.fromShut ? valve.leak.fallS : valve.fallS;
    pressure += gain(target > pressure ? valve.riseS : slowFall) * (target - pressure);
  };

  return {
    step,
    get pressure() {
      return pressure;
    },
    get stand() {
      return stand;
    },
    get rest() {
      return rest;
    },
    get fanOnly() {
      return fanOnly();
    },
    get fanSpeed() {
      return fanSpeed;
    },
  };
}
