import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { createBurnerWatch } from '../../../electron/host/burner/burner-watch.ts';
import type { MeterLine } from '../../../electron/host/acquire/meter/meter.ts';
import type { Alarm } from '../../../shared/burner-state/alarms.ts';
import type { Setup } from '../../../shared/model/setup.ts';

/** Two meters at ten readings a second on a clock of our own: pressure in inH2O, signal in V, from a story by the second. */
function tell(
  initialSetup: Setup,
  story: { untilS: number; pressure: number; signal: number; valve?: 0 | 1; silent?: 'manometer' | 'signal meter' }[],
  fan?: number,
) {
  vi.useFakeTimers();
  onTestFinished(() => void vi.useRealTimers());
  let nowMs = 0;
  let setup = initialSetup;
  const alarms: (string | undefined)[] = [];
  const watch = createBurnerWatch({
    clock: () => ({ monotonicMs: () => nowMs, wallMs: () => nowMs }),
    setup: () => setup,
    onAlarm: (alarm: Alarm | undefined) => alarms.push(alarm?.kind),
    onNow: () => false,
    doubtsFlame: () => undefined,
    onFanGone: () => alarms.push('fan-gone'),
    onChange: () => {},
  });
  const line = (role: string, unit: string, value: number) =>
    ({ atMs: nowMs, readings: [{ role, unit, value }] }) as unknown as MeterLine;
  let signal = story[0]!.signal;
  const run = (stretch: (typeof story)[number]) => {
    while (nowMs < stretch.untilS * 1000) {
      nowMs += 100;
      // A detector with a lag of half a second, and a last digit of ten millivolts that is never quite still.
      signal += 0.2 * (stretch.signal - signal);
      const dither = (nowMs / 100) % 3 === 0 ? 0.01 : 0;
      watch.add([
        ...(stretch.silent === 'manometer' ? [] : [line('pilot_pressure', 'inH2O', stretch.pressure + dither / 2)]),
        ...(stretch.silent === 'signal meter'
          ? []
          : [line('flame_signal', 'V', Math.round((signal + dither) * 100) / 100)]),
        ...(fan === undefined ? [] : [line('fan_pressure', 'inH2O', fan)]),
        ...(stretch.valve === undefined ? [] : [line('pilot_valve', 'on', stretch.valve)]),
      ]);
      vi.advanceTimersByTime(100);
    }
  };
  for (const stretch of story) run(stretch);
  const view = watch.view();
  const change = (next: Setup) => void (setup = next);
  return { alarms, view, watch, run, change, stop: () => watch.stop() };
}

const setup: Setup = { fanOnlyPressure: { value: 0.2, unit: 'inH2O' }, minimumSignal: { value: 1.25, unit: 'V' } };
const shut = { pressure: 0.2, signal: 0.02 };
const burning = { pressure: 2.4, signal: 4.6 };

describe('the burner as the host sees it', () => {
  it('knows a pilot that was lit and burns, and lets its pressure be set', () => {
    const { view, alarms, stop } = tell(setup, [
      { untilS: 10, ...shut },
      { untilS: 12, pressure: 2.4, signal: 0.02 },
      { untilS: 30, ...burning },
    ]);
    expect(view).toMatchObject({ gas: 'flowing', flame: 'burning', phase: 'held' });
    expect(view.settingRefusal).toBeUndefined();
    expect(alarms).toEqual([]);
    stop();
  });
  it('goes on with what it has learned when the setup changes', () => {
    const { run, change, watch, stop } = tell(setup, [
      { untilS: 10, ...shut },
      { untilS: 12, pressure: 2.4, signal: 0.02 },
      { untilS: 30, ...burning },
    ]);
    const held = { gas: 'flowing', flame: 'burning', phase: 'held' };
    change({ ...setup, purgeSeconds: 90 });
    run({ untilS: 30.1, ...burning });
    expect(watch.view()).toMatchObject({ ...held, purge: { wantedS: 90 } });
    // The tracker is told of this one: it begins anew, with the readings that it had.
    change({ ...setup, minimumSignal: { value: 1.5, unit: 'V' } });
    run({ untilS: 30.2, ...burning });
    expect(watch.view()).toMatchObject({ ...held, purge: { wantedS: 60 } });
    stop();
  });
  it('sounds when gas stays on after a wired valve shut, until gas is shut, whatever becomes of the wire', () => {
    const { alarms, watch, run, stop } = tell(setup, [
      { untilS: 10, ...shut, valve: 0 },
      { untilS: 12, pressure: 2.4, signal: 0.02, valve: 1 },
      { untilS: 30, ...burning, valve: 1 },
      { untilS: 40, ...burning, valve: 0 },
    ]);
    expect(alarms).toEqual(['not-shut']);
    run({ untilS: 50, ...burning });
    expect(watch.view().alarm?.kind).toBe('not-shut');
    run({ untilS: 56, ...shut });
    expect(alarms).toEqual(['not-shut', undefined]);
    stop();
  });
  it('takes a confirmed fan back when the fan-only pressure is gone', () => {
    const { alarms, watch, run, stop } = tell(setup, [
      { untilS: 10, ...shut },
      { untilS: 12, pressure: 2.4, signal: 0.02 },
      { untilS: 30, ...burning },
      { untilS: 35, ...shut },
    ]);
    watch.confirmFan(true);
    run({ untilS: 45, ...shut });
    expect(watch.view().purge.purgedS).toBeGreaterThan(9);
    // The fan stops: nothing but the zero of the gauge is left, and no more seconds count.
    run({ untilS: 60, pressure: 0, signal: 0.02 });
    expect(alarms).toEqual(['fan-gone']);
    expect(watch.view().air.confirmed).toBe(false);
    expect(watch.view().purge.purgedS).toBeLessThan(15);
    stop();
  });
  it('takes it back where nobody entered that pressure and the gauge has shown it since; a damper that closes is no stop', () => {
    const { alarms, watch, run, stop } = tell({ minimumSignal: setup.minimumSignal! }, [{ untilS: 15, ...shut }]);
    watch.confirmFan(true);
    run({ untilS: 25, pressure: 0.24, signal: 0.02 });
    run({ untilS: 35, ...shut });
    expect(alarms).toEqual([]);
    run({ untilS: 45, pressure: 0, signal: 0.02 });
    expect(alarms).toEqual(['fan-gone']);
    expect(watch.view().air).toMatchObject({ confirmed: false, gone: true });
    // A draft that nobody sees is the technician's word alone.
    watch.confirmFan(true);
    run({ untilS: 60, pressure: 0, signal: 0.02 });
    expect(watch.view().air).toEqual({ shown: undefined, confirmed: true });
    // Gas that comes on and is shut again is no fan that has stopped.
    run({ untilS: 61, pressure: 2.4, signal: 0.02 });
    run({ untilS: 80, ...burning });
    run({ untilS: 100, pressure: 0, signal: 0.02 });
    expect(watch.view().air.confirmed).toBe(true);
    expect(alarms).toEqual(['fan-gone']);
    stop();
  });
  it('counts no purge after what may have been the pilot behind a hose that is off, until the technician says that gas is', () => {
    const still = { pressure: 0, signal: 0.02 };
    const pilot = (fanOnly: number, rest: { pressure: number; signal: number }) => {
      const told = tell({ ...setup, fanOnlyPressure: { value: fanOnly, unit: 'inH2O' } }, [
        { untilS: 10, ...rest },
        { untilS: 12, pressure: 2.4, signal: 0.02 },
        { untilS: 40, ...burning },
        { untilS: 45, ...rest },
      ]);
      told.watch.confirmFan(true);
      told.run({ untilS: 110, ...rest });
      expect(told.watch.view().purge.purgedS).toBeGreaterThan(60);
      told.run({ untilS: 118, pressure: rest.pressure, signal: 4.6 });
      return told;
    };
    const hoseOff = pilot(0, still);
    // While it stands it may be the spark of a trial that is about to begin: its purge was full.
    expect(hoseOff.watch.view().purge.purgedS).toBeGreaterThan(60);
    hoseOff.run({ untilS: 160, ...still });
    expect(hoseOff.watch.view().purge).toMatchObject({ needed: true, purgedS: 0, mayHaveBurned: true });
    hoseOff.watch.confirmGasOff();
    expect(hoseOff.watch.view().purge.mayHaveBurned).toBeUndefined();
    hoseOff.run({ untilS: 170, ...still });
    expect(hoseOff.watch.view().purge.purgedS).toBeGreaterThan(8);
    hoseOff.stop();
    // A gauge that shows the fan has its hose on: it was a spark.
    const spark = pilot(0.2, shut);
    spark.run({ untilS: 125, ...shut });
    expect(spark.watch.view().purge.purgedS).toBeGreaterThan(60);
    expect(spark.watch.view().purge.mayHaveBurned).toBeUndefined();
    spark.stop();
  });
  it('says of a flame that came back by itself that it did, and keeps the alarm', () => {
    const { watch, run, stop } = tell(setup, [
      { untilS: 10, ...shut },
      { untilS: 12, pressure: 2.4, signal: 0.02 },
      { untilS: 40, ...burning },
      { untilS: 45, pressure: 2.4, signal: 0.02 },
    ]);
    expect(watch.view().alarm?.message).toContain('Flame lost, gas on.');
    run({ untilS: 55, ...burning });
    expect(watch.view().alarm?.kind).toBe('flame-lost');
    const { message, forS } = watch.view().alarm!;
    expect(message).toMatch(/^Flame is back; gas was unlit for [3-7] s\./u);
    // The number counts the dark, not the time since.
    run({ untilS: 75, ...burning });
    expect(watch.view().alarm).toMatchObject({ message, forS, count: 1 });
    stop();
  });
  it('takes a flame that is lost again for another alarm, with a mark and a counter of its own', () => {
    const { alarms, watch, run, stop } = tell(setup, [
      { untilS: 10, ...shut },
      { untilS: 12, pressure: 2.4, signal: 0.02 },
      { untilS: 40, ...burning },
      { untilS: 45, pressure: 2.4, signal: 0.02 },
      { untilS: 75, ...burning },
    ]);
    expect(alarms).toEqual(['flame-lost']);
    run({ untilS: 80, pressure: 2.4, signal: 0.02 });
    expect(alarms).toEqual(['flame-lost', 'flame-lost']);
    expect(watch.view().alarm).toMatchObject({ count: 2, message: expect.stringContaining('Flame lost, gas on.') });
    expect(watch.view().alarm!.forS).toBeLessThanOrEqual(5);
    stop();
  });
  const held = [
    { untilS: 10, ...shut },
    { untilS: 12, pressure: 2.4, signal: 0.02 },
    { untilS: 40, ...burning },
  ];
  it('sounds when the flame goes out while the manometer says nothing', () => {
    const { alarms, watch, run, stop } = tell(setup, [...held, { untilS: 50, ...burning, silent: 'manometer' }]);
    expect(alarms).toEqual([]);
    run({ untilS: 53, pressure: 2.4, signal: 0.02, silent: 'manometer' });
    expect(watch.view().alarm?.message).toContain('gas may be flowing');
    // The manometer is back and shows gas on: the alarm stays.
    run({ untilS: 60, pressure: 2.4, signal: 0.02 });
    expect(alarms).toEqual(['flame-lost']);
    stop();
  });
  it('sounds when gas is on beyond the trial time and the signal meter says nothing', () => {
    const { alarms, watch, run, stop } = tell(setup, [...held, { untilS: 60, ...shut }]);
    run({ untilS: 65, ...shut, silent: 'signal meter' });
    run({ untilS: 73, pressure: 2.4, signal: 0.02, silent: 'signal meter' });
    expect(alarms).toEqual([]);
    run({ untilS: 78, pressure: 2.4, signal: 0.02, silent: 'signal meter' });
    expect(watch.view().alarm?.message).toContain('no meter shows a flame');
    stop();
  });
  it('does not sound when the signal meter falls silent beside a flame that burned', () => {
    const { alarms, run, stop } = tell(setup, held);
    run({ untilS: 90, ...burning, silent: 'signal meter' });
    expect(alarms).toEqual([]);
    stop();
  });
  it('does not call gas shut beside a flame that burns, whatever a manometer repeats', () => {
    const { watch, run, stop } = tell(setup, [...held, { untilS: 60, ...shut }]);
    run({ untilS: 80, pressure: 0.2, signal: 4.58 });
    expect(watch.view().gas).not.toBe('shut');
    expect(watch.view().purge.purgedS).toBe(0);
    stop();
  });
  it('takes nothing from a valve that it saw last before its meter went', () => {
    const { alarms, stop } = tell(setup, [
      { untilS: 10, ...shut, valve: 0 },
      { untilS: 14, ...shut },
      { untilS: 16, pressure: 2.4, signal: 0.02 },
      { untilS: 40, ...burning },
    ]);
    expect(alarms).toEqual([]);
    stop();
  });
  it('sounds within two seconds of a flame that goes out with gas on, until the gas is shut', () => {
    const { watch, run, alarms, stop } = tell(setup, [
      { untilS: 10, ...shut },
      { untilS: 12, pressure: 2.4, signal: 0.02 },
      { untilS: 40, ...burning },
      { untilS: 43, pressure: 2.4, signal: 0.02 },
    ]);
    expect(alarms).toEqual(['flame-lost']);
    expect(watch.view().settingRefusal?.code).toBe('flame-lost');
    run({ untilS: 60, ...burning }); // it came back by itself: no reason to go on
    expect(watch.view().alarm?.kind).toBe('flame-lost');
    run({ untilS: 66, ...shut });
    expect(watch.view().alarm).toBeUndefined();
    expect(alarms).toEqual(['flame-lost', undefined]);
    stop();
  });
  it('sounds when gas flows unlit for longer than the trial for ignition', () => {
    const { alarms, stop } = tell({ ...setup, pilotTrialSeconds: 5 }, [
      { untilS: 10, ...shut },
      { untilS: 20, pressure: 2.4, signal: 0.02 },
    ]);
    expect(alarms).toEqual(['gas-unlit']);
    stop();
  });
  it('refuses to have the pressure set while gas is shut', () => {
    const { view, stop } = tell(setup, [{ untilS: 15, ...shut }]);
    expect(view).toMatchObject({ gas: 'shut', flame: 'dark', settingRefusal: { code: 'gas-shut' } });
    stop();
  });
  it('counts a purge only with air: shown by a wired fan, or confirmed', () => {
    const story = [
      { untilS: 10, ...shut },
      { untilS: 12, pressure: 2.4, signal: 0.02 },
      { untilS: 20, ...burning },
      { untilS: 50, ...shut },
    ];
    const wired = tell(setup, story, 0.6);
    expect(wired.view.purge.purgedS).toBeGreaterThan(20);
    wired.stop();
    const { watch, run, view, stop } = tell(setup, story);
    expect(view.purge).toMatchObject({ needed: true, purgedS: 0 });
    expect(view.purge.waitedS).toBeGreaterThan(20);
    watch.confirmFan(true);
    run({ untilS: 60, ...shut });
    expect(watch.view().purge.purgedS).toBeCloseTo(10, 0);
    stop();
  });
});
