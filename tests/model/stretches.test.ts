import { describe, expect, it } from 'vitest';
import { flameStates, gasStates } from '../../shared/model/burner-words.ts';
import { addStretch, kindAt, type Stretch, stretchesOf, stretchKindOf } from '../../shared/model/stretches.ts';

describe('what a moment is', () => {
  it('is lit only while a flame burns, and lost only while it is lost, whatever the gas', () => {
    for (const gas of gasStates)
      for (const flame of flameStates) {
        const kind = stretchKindOf({ gas, flame });
        expect([gas, flame, kind === 'lit']).toEqual([gas, flame, flame === 'burning' || flame === 'unsteady']);
        expect([gas, flame, kind === 'lost']).toEqual([gas, flame, flame === 'lost']);
      }
  });

  // Gas that may be on without a flame is the danger: shut is said only where both meters show it.
  it.each([
    ['shut', 'dark', 'shut'],
    ['shut', 'out', 'shut'],
    ['closing', 'out', 'shut'],
    ['closing', 'dark', 'unlit'],
    ['opening', 'dark', 'unlit'],
    ['flowing', 'lighting', 'unlit'],
    ['unknown', 'out', 'unknown'],
    ['shut', 'unknown', 'unknown'],
    ['flowing', 'unknown', 'unknown'],
  ] as const)('gas %s and flame %s is %s', (gas, flame, kind) => expect(stretchKindOf({ gas, flame })).toBe(kind));
});

it('stretches are as long as possible, and a pause between two of one kind keeps them apart', () => {
  const phase = (from_s: number, to_s: number, flame: 'burning' | 'unsteady' | 'lost') =>
    ({ from_s, to_s, gas: 'flowing', flame }) as const;
  expect(
    stretchesOf([phase(0, 2, 'burning'), phase(2, 3, 'unsteady'), phase(3, 4, 'lost'), phase(4, 5, 'burning')]),
  ).toEqual([
    { fromS: 0, toS: 3, kind: 'lit' },
    { fromS: 3, toS: 4, kind: 'lost' },
    { fromS: 4, toS: 5, kind: 'lit' },
  ]);
  const live: Stretch[] = [];
  for (const fromS of [0, 0.1, 0.2, 9]) addStretch(live, { fromS, toS: fromS + 0.1, kind: 'lit' });
  expect(live).toEqual([
    { fromS: 0, toS: expect.closeTo(0.3, 9), kind: 'lit' },
    { fromS: 9, toS: 9.1, kind: 'lit' },
  ]);
  expect(stretchesOf()).toEqual([]);
});

it('the kind at a time is that of its stretch, and unknown where nobody said anything', () => {
  const at = kindAt([
    { fromS: 1, toS: 3, kind: 'shut' },
    { fromS: 3, toS: 4, kind: 'lit' },
    { fromS: 6, toS: 8, kind: 'lost' },
  ]);
  expect([0, 1, 2, 3, 3.9, 5, 6, 8, 9].map(at)).toEqual([
    'unknown',
    'shut',
    'shut',
    'lit',
    'lit',
    'unknown',
    'lost',
    'lost',
    'unknown',
  ]);
  // Times may go back.
  expect(at(2)).toBe('shut');
  expect(kindAt([])(1)).toBe('unknown');
});
