import type { BurnerView } from '../../shared/contract/api.ts';

/** A pilot that is held: gas flows, the flame burns, the regulator rests. */
export const held: BurnerView = {
  gas: 'flowing',
  flame: 'burning',
  regulator: 'at-rest',
  phase: 'held',
  probability: 0.99,
  purge: { needed: false, purgedS: 0, waitedS: 0, wantedS: 60 },
  air: { confirmed: false },
};
