import { expect, it } from 'vitest';
import type { Alarm } from '../../shared/burner-state/alarms.ts';
import { canBeConfirmed, isRefusalOver, settingRefusal, sweepRefusal } from '../../shared/burner-state/permissions.ts';
import type { BurnerNow } from '../../shared/burner-state/tracker.ts';
import { flameStates, gasStates } from '../../shared/model/burner-words.ts';

const nowOf = (more: Partial<BurnerNow>): BurnerNow =>
  ({
    moment: { gas: 'flowing', flame: 'burning' },
    latest: { gas: 'flowing', flame: 'burning' },
    ...more,
  }) as BurnerNow;
const codeOf = (more: Partial<BurnerNow>, alarm?: Alarm) => settingRefusal({ now: nowOf(more), alarm })?.code;

it('a frozen meter is said to repeat itself, not to be silent, and the technician may answer for it', () => {
  const trouble = (kind: 'frozen' | 'silent') => ({ kind, sinceS: 3 });
  expect(codeOf({ signalTrouble: trouble('frozen') })).toBe('meter-frozen');
  expect(codeOf({ pressureTrouble: trouble('frozen') })).toBe('meter-frozen');
  expect(codeOf({ pressureTrouble: trouble('silent') })).toBe('meter-no-reading');
  expect(canBeConfirmed('meter-frozen')).toBe(true);
  const said = settingRefusal({ now: nowOf({ signalTrouble: trouble('frozen') }), alarm: undefined })!.message;
  expect(said).toContain('repeats one reading');
  expect(said).not.toMatch(/cable|no reading/u);
});

it.each(['shut', 'closing'] as const)(
  'nothing is set once gas is seen to be %s, whatever is still said of a moment ago',
  (gas) => {
    for (const flame of ['unknown', 'burning', 'out'] as const)
      expect(codeOf({ latest: { gas, flame } as BurnerNow['latest'] })).toBe('gas-shut');
  },
);

it('whatever was refused for what the burner did is over once it does something else', () => {
  const alarms: Alarm[] = [
    { kind: 'flame-lost', sinceS: 0 },
    { kind: 'gas-unlit', sinceS: 0 },
    { kind: 'not-shut', sinceS: 0 },
    { kind: 'flame-lost', sinceS: 0, unlitFromS: 0, unlitToS: 3 },
    { kind: 'flame-lost', sinceS: 0, gasUnseen: true },
    { kind: 'gas-unlit', sinceS: 0, flameUnseen: true },
    { kind: 'gas-unlit', sinceS: 0, interrupted: true },
  ];
  const states = gasStates.flatMap((gas) => flameStates.map((flame) => ({ gas, flame }) as BurnerNow['moment']));
  const codes = [
    ...alarms.map((alarm) => codeOf({}, alarm)),
    ...states.map((moment) => codeOf({ moment, latest: moment })),
    ...(['frozen', 'silent'] as const).map((kind) => codeOf({ signalTrouble: { kind, sinceS: 0 } })),
    settingRefusal({ now: undefined, alarm: undefined })?.code,
  ].filter((code) => code !== undefined);
  expect(new Set(codes).size).toBeGreaterThan(10);
  for (const code of codes) {
    expect(isRefusalOver(code, undefined), code).toBe(true);
    expect(isRefusalOver(code, code), code).toBe(false);
  }
  // What the burner does not decide stays until it is answered.
  for (const code of ['as-found-late', 'no-live-pressure', 'capture-closed'])
    expect(isRefusalOver(code, undefined), code).toBe(false);
});

it('no sweep begins under an alarm, nor with the manometer off its hose; gas that is shut is no reason', () => {
  const begins = (more: Partial<BurnerNow>, alarm?: Alarm) => sweepRefusal({ now: nowOf(more), alarm })?.code;
  expect(begins({}, { kind: 'flame-lost', sinceS: 0 })).toBe('flame-lost');
  expect(begins({ pressureTrouble: { kind: 'off', sinceS: 3 } })).toBe('manometer-off');
  expect(begins({ pressureTrouble: { kind: 'silent', sinceS: 3 } })).toBeUndefined();
  expect(begins({ moment: { gas: 'shut', flame: 'dark' } as BurnerNow['moment'] })).toBeUndefined();
});
