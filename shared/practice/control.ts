/**
 * The states of a burner control, as the trade names them (common practice). `pilot-hold`: the flame is proved and the test switch holds
 * the sequence there; `run`: it has gone on. The bench has no main burner: in `run` its pilot burns on, as an intermittent pilot does.
 */
export const controlStates = [
  'standby',
  'prepurge',
  'pilot-trial',
  'pilot-hold',
  'run',
  'postpurge',
  'lockout',
] as const;
export type ControlState = (typeof controlStates)[number];

/** How a control is set. All times in seconds; the flame failure response time is 1 to 4 s by kind (from memory; state as practice). */
export interface ControlSettings {
  prepurgeS: number;
  trialS: number;
  /** Spark after gas, by the technician's choice; 0: with the gas. */
  sparkDelayS: number;
  /** From the loss of the flame to the closing of the valve. */
  flameFailureS: number;
  postpurgeS: number;
  /** What follows a flame that was lost; a failed trial always locks out. */
  onFlameFailure: 'lockout' | 'recycle';
}

/** Least and most of each time, seconds. A trial outlasts every flame failure response time. */
export const settingLimits = {
  prepurgeS: [5, 600],
  trialS: [4, 60],
  sparkDelayS: [0, 60],
  flameFailureS: [1, 4],
  postpurgeS: [0, 600],
} as const satisfies Record<keyof Omit<ControlSettings, 'onFlameFailure'>, readonly [number, number]>;

/** What the control is told, each step. */
export interface ControlInputs {
  callForHeat: boolean;
  /** The test switch is in "hold pilot". */
  holdPilot: boolean;
  /** The test switch is jumpered: while the pilot is held, a lost flame shuts nothing. */
  jumpered: boolean;
  flameSeen: boolean;
  /** The reset button was pressed. */
  reset: boolean;
}

/** What the control operates. */
export interface ControlOutputs {
  fan: boolean;
  pilotValve: boolean;
  spark: boolean;
}

/** Where the control is, and for how long; whether it sees a flame, and for how long that has been so. Whole milliseconds. */
export interface ControlMemory {
  state: ControlState;
  inStateMs: number;
  flameSeen: boolean;
  flameMs: number;
}

/** A flame is proved once it has been seen for so long without a break, ms (common practice: about a second). */
export const proveMs = 1000;

export const startingControl = (state: 'standby' | 'pilot-hold'): ControlMemory => ({
  state,
  inStateMs: 0,
  flameSeen: state === 'pilot-hold',
  flameMs: 0,
});

/**
 * The control one step later. Inputs are those of the step's own moment; a state that takes 30 s is left 30 s after it was entered.
 *
 * @param stepMs  whole milliseconds since the step before
 */
export function nextControl(
  memory: ControlMemory,
  inputs: ControlInputs,
  settings: ControlSettings,
  stepMs: number,
): ControlMemory {
  const later: ControlMemory = {
    state: memory.state,
    inStateMs: memory.inStateMs + stepMs,
    flameSeen: inputs.flameSeen,
    flameMs: inputs.flameSeen === memory.flameSeen ? memory.flameMs + stepMs : 0,
  };
  const state = nextState(later, inputs, settings);
  return state === memory.state ? later : { ...later, state, inStateMs: 0 };
}

function nextState(
  { state, inStateMs, flameSeen, flameMs }: ControlMemory,
  { callForHeat, holdPilot, jumpered, reset }: ControlInputs,
  settings: ControlSettings,
): ControlState {
  const isOver = (seconds: number): boolean => inStateMs >= seconds * 1000;
  const lastsFailureTime = flameMs >= settings.flameFailureS * 1000;
  const isLost = !flameSeen && lastsFailureTime;
  const afterLoss = settings.onFlameFailure === 'recycle' ? 'postpurge' : 'lockout';
  switch (state) {
    case 'standby':
      return callForHeat ? 'prepurge' : state;
    case 'prepurge':
      if (!callForHeat) return 'standby';
      // A flame before gas: a valve that does not shut, or a detector that sees what is none. No start (common practice).
      if (flameSeen && lastsFailureTime) return 'lockout';
      return isOver(settings.prepurgeS) ? 'pilot-trial' : state;
    case 'pilot-trial':
      if (!callForHeat) return 'postpurge';
      if (flameSeen && flameMs >= proveMs) return holdPilot ? 'pilot-hold' : 'run';
      return isOver(settings.trialS) ? 'lockout' : state;
    case 'pilot-hold':
      if (!callForHeat) return 'postpurge';
      if (isLost && !jumpered) return afterLoss;
      return holdPilot ? state : 'run';
    case 'run':
      if (!callForHeat) return 'postpurge';
      return isLost ? afterLoss : state;
    case 'postpurge':
      if (!isOver(settings.postpurgeS)) return state;
      return callForHeat ? 'prepurge' : 'standby';
    case 'lockout':
      if (!reset) return state;
      return callForHeat ? 'prepurge' : 'standby';
  }
}

/** Fan, valve and spark in the state; a lockout ends with a postpurge. */
export function controlOutputs({ state, inStateMs }: ControlMemory, settings: ControlSettings): ControlOutputs {
  const isTrial = state === 'pilot-trial';
  return {
    fan: state === 'lockout' ? inStateMs < settings.postpurgeS * 1000 : state !== 'standby',
    pilotValve: isTrial || state === 'pilot-hold' || state === 'run',
    spark: isTrial && inStateMs >= settings.sparkDelayS * 1000,
  };
}

/** Seconds until the state is over by itself; undefined where nothing but the flame or a hand ends it. */
export function timeLeftS({ state, inStateMs }: ControlMemory, settings: ControlSettings): number | undefined {
  const length = { prepurge: settings.prepurgeS, 'pilot-trial': settings.trialS, postpurge: settings.postpurgeS };
  return state in length ? length[state as keyof typeof length] - inStateMs / 1000 : undefined;
}
