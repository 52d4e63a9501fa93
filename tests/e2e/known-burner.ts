/**
 * A burner whose steady-state curve is defined here, so that the test knows the true ends: two logistic shoulders, a shape
 * chosen to resemble a pilot's, read by two meters that print text lines into pseudo-terminals.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, openSync, writeSync, closeSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';

const logistic = (x: number) => 1 / (1 + Math.exp(-x));

/** Invented burner: lower shoulder at 1.2 inH2O, upper at 3.9 inH2O, 4.6 V between them. */
const lower = { at: 1.2, width: 0.07 };
const upper = { at: 3.9, width: 0.09 };
const amplitude = 4.6;
/** What the manometer reads with the valve shut and the fan running, inH2O. */
const fanOnly = 0.2;
/** `value` on its way to `to`, after `share` of a time constant; there once nothing is left to see. */
const settle = (value: number, to: number, share: number) => {
  const next = value + (to - value) * (1 - Math.exp(-share));
  return Math.abs(to - next) < 0.001 ? to : next;
};
/** Detector and amplifier: dead time plus first-order lag, seconds. */
const lag = { dead: 0.2, first: 0.4 };

export const steadySignal = (pressure: number) =>
  amplitude * logistic((pressure - lower.at) / lower.width) * logistic((upper.at - pressure) / upper.width);

/** Pressures at which the steady curve is nine tenths of its highest level (the default drop of a tenth). Widths are far below the distance of the shoulders, so each end is its own logistic. */
export const truth = {
  low: lower.at + lower.width * Math.log(0.9 / 0.1),
  high: upper.at - upper.width * Math.log(0.9 / 0.1),
  plateau: amplitude,
};

/** Two pseudo-terminals joined by a wire: what is written to `far` is received at `near`. */
export async function openWire(folder: string, name: string) {
  const near = join(folder, name);
  const far = join(folder, `${name}-far`);
  const socat: ChildProcess = spawn('socat', [`pty,raw,echo=0,link=${near}`, `pty,raw,echo=0,link=${far}`]);
  for (let tries = 0; !(existsSync(near) && existsSync(far)); tries += 1) {
    if (tries > 100) throw new Error(`socat made no wire ${near}`);
    await sleep(50);
  }
  const out = openSync(far, 'w');
  return {
    near,
    write: (text: string) => {
      writeSync(out, text);
    },
    close() {
      closeSync(out);
      socat.kill();
    },
  };
}

/**
 * Makes a step of a burner for every `stepS` seconds that have passed, and lets its meters show what it does then. A burner does not wait
 * for a busy machine, whose timers come late: it goes on as it should have. Gives what stops it.
 */
export function goByTheClock(stepS: number, step: () => void, show: () => void): () => void {
  const beganMs = performance.now();
  let steps = 0;
  const timer = setInterval(() => {
    for (; steps < Math.floor((performance.now() - beganMs) / 1000 / stepS); steps += 1) step();
    show();
  }, stepS * 1000);
  return () => clearInterval(timer);
}

/** The burner with its two meters on serial lines. `turnTo` turns the regulator at a steady rate. */
export async function openKnownBurner(folder: string, start = 2.5) {
  const [gauge, flame] = await Promise.all([openWire(folder, 'gauge'), openWire(folder, 'flame')]);
  let pressure = start;
  let target = start;
  let speed = 0;
  let lit = true;
  let open = true;
  let atMeter = start;
  let isSettled = true;
  /** What a meter does instead of reading: repeats its last line, or says nothing. */
  const faults: Record<'gauge' | 'flame', 'frozen' | 'silent' | undefined> = { gauge: undefined, flame: undefined };
  const lastLines = { gauge: '', flame: '' };
  const say = (meter: 'gauge' | 'flame', value: number) => {
    if (faults[meter] === 'silent') return;
    if (faults[meter] === undefined) lastLines[meter] = `${value.toFixed(3)}\r\n`;
    (meter === 'gauge' ? gauge : flame).write(lastLines[meter]);
  };
  const steady: number[] = [];
  let signal = steadySignal(pressure);
  let tick = 0;
  // A linear congruential sequence: small meter noise that is the same in every run (Numerical Recipes, constants from memory).
  let state = 12345;
  const noise = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 0x1_0000_0000 - 0.5;
  };
  const stepS = 0.05;
  /** Which meter has a reading to show. */
  const due = { gauge: false, flame: false };
  const step = () => {
    const distance = target - pressure;
    pressure += Math.sign(distance) * Math.min(Math.abs(distance), speed * stepS);
    // A valve takes tenths of a second; shut, the fan alone is left.
    const wanted = open ? pressure : fanOnly;
    atMeter = isSettled ? wanted : settle(atMeter, wanted, stepS / 0.15);
    isSettled = atMeter === wanted;
    steady.push(lit && open ? steadySignal(pressure) : 0.02);
    const seen = steady[Math.max(0, steady.length - 1 - Math.round(lag.dead / stepS))]!;
    signal += (seen - signal) * (1 - Math.exp(-stepS / lag.first));
    tick += 1;
    due.gauge ||= tick % 2 === 0;
    due.flame ||= tick % 4 === 1;
  };
  const stop = goByTheClock(stepS, step, () => {
    if (due.gauge) say('gauge', atMeter + 0.004 * noise());
    if (due.flame) say('flame', signal + 0.02 * noise());
    due.gauge = false;
    due.flame = false;
  });

  return {
    gaugePort: gauge.near,
    flamePort: flame.near,
    /** Turns the regulator until the pressure is `to` inH2O, at `perSecond` inH2O per second; resolves when it is there. */
    async turnTo(to: number, perSecond: number) {
      target = to;
      speed = perSecond;
      while (pressure !== to) await sleep(100);
    },
    setFlame(burns: boolean) {
      lit = burns;
    },
    /** Opens or shuts the pilot valve; gas that comes on burns only while the flame is set to. */
    setValve(isOpen: boolean) {
      open = isOpen;
      isSettled = false;
    },
    setFault(meter: 'gauge' | 'flame', fault: 'frozen' | 'silent' | undefined) {
      faults[meter] = fault;
    },
    close() {
      stop();
      for (const wire of [gauge, flame]) wire.close();
    },
  };
}
