import { goByTheClock, openWire } from './known-burner.ts';

/** A pilot with its two meters on serial lines: a valve, a flame that the test lights, and nothing else. */
export async function openLightOffBurner(folder: string) {
  const [gauge, flame] = await Promise.all([openWire(folder, 'gauge'), openWire(folder, 'flame')]);
  const stepS = 0.05;
  let isOpen = false;
  let burns = false;
  let pressure = 0.2;
  let signal = 0.02;
  let tick = 0;
  const due = { gauge: false, flame: false };
  const step = () => {
    // Fan-only 0.2 inH2O, 2.4 inH2O with gas; the valve moves it within tenths of a second, the amplifier lags by half a second.
    pressure += ((isOpen ? 2.4 : 0.2) - pressure) * (1 - Math.exp(-stepS / 0.15));
    signal += ((isOpen && burns ? 4.6 : 0.02) - signal) * (1 - Math.exp(-stepS / 0.5));
    tick += 1;
    due.gauge ||= tick % 2 === 0;
    due.flame ||= tick % 4 === 1;
  };
  const stop = goByTheClock(stepS, step, () => {
    // Last digits that are never quite still.
    const dither = (tick % 7) / 1000;
    if (due.gauge) gauge.write(`${(pressure + dither).toFixed(3)}\r\n`);
    if (due.flame) flame.write(`${(signal + dither).toFixed(3)}\r\n`);
    due.gauge = false;
    due.flame = false;
  });
  return {
    gaugePort: gauge.near,
    flamePort: flame.near,
    set(valveOpen: boolean, flameBurns: boolean) {
      isOpen = valveOpen;
      burns = flameBurns;
    },
    close() {
      stop();
      for (const wire of [gauge, flame]) wire.close();
    },
  };
}
