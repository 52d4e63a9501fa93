/** What the pilot gas does, by the manometer. */
export const gasStates = ['shut', 'opening', 'flowing', 'closing', 'unknown'] as const;
export type GasState = (typeof gasStates)[number];
/** Whether gas comes in: on its way in, or flowing. */
export const comesIn = (gas: GasState | undefined): boolean => gas === 'opening' || gas === 'flowing';
/** Whether the manometer shows gas, be it on its way out. */
export const isGasOn = (gas: GasState | undefined): boolean => comesIn(gas) || gas === 'closing';

/**
 * What the flame does. `dark`: none yet since the gas opened, or before any gas; `lighting`: its signal builds up; `unsteady`: it
 * burns and flickers; `lost`: gone while gas flows; `out`: gone with the gas shut, until gas opens again.
 */
export const flameStates = ['dark', 'lighting', 'burning', 'unsteady', 'lost', 'out', 'unknown'] as const;
export type FlameState = (typeof flameStates)[number];

/** What the regulator's screw does; `settling`: it rests, and the pressure still moves after it. */
export const regulatorStates = ['at-rest', 'turning-in', 'turning-out', 'settling', 'unknown'] as const;
export type RegulatorState = (typeof regulatorStates)[number];

/**
 * Where the visit stands. `wait`: gas shut and dark between two times with gas, air not known; `purge`: the same with air shown or
 * confirmed.
 */
export const phaseNames = ['before-gas', 'trial', 'held', 'wait', 'purge', 'after', 'unknown'] as const;
export type Phase = (typeof phaseNames)[number];

/** Whether a signal stands over shut gas: of a spark, hot refractory or another flame. A meter in trouble shows none. */
export const isSignalWithoutGas = (burner: { gas: GasState; flame: FlameState; signalTrouble?: unknown }): boolean =>
  burner.gas === 'shut' && burner.flame === 'unknown' && burner.signalTrouble === undefined;
