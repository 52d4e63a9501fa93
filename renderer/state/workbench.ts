import { create } from 'zustand';
import { persist } from 'zustand/middleware';
import type { Burner } from '../../shared/contract/api.ts';
import type { BurnerFacts } from '../../shared/model/capture.ts';
import type { Setup } from '../../shared/model/setup.ts';
import { emptySetupFields, fieldsFromSetup, type SetupFields } from './setup/setup-fields.ts';

/** The places of the page: the steps of a visit in order, and the list of earlier captures. */
export const places = ['burner', 'meters', 'sweep', 'light-off', 'window', 'set', 'proof', 'earlier'] as const;
export type Place = (typeof places)[number];

export type Theme = 'system' | 'light' | 'dark';

/** The burner as typed; `id` once the store knows it. */
export type BurnerFields = Record<keyof BurnerFacts, string> & { id?: string | undefined };

export const emptyBurnerFields: BurnerFields = {
  site: '',
  name: '',
  burnerModel: '',
  serialNumber: '',
  pilotModel: '',
  flameDetector: '',
  gas: '',
};

/** What the user arranges, and forms as typed so far. What the host owns is never stored here. */
export interface Workbench {
  place: Place;
  theme: Theme;
  /** The current capture: being recorded, or opened to view. */
  captureId: string | undefined;
  /** The earlier capture that the current one is compared with. */
  earlierId: string | undefined;
  technician: string;
  burner: BurnerFields;
  setup: SetupFields;
  noteText: string;
  proofNote: string;
  sparkDelay: string;
  practiceOpen: boolean;
  go: (place: Place) => void;
  change: (part: Partial<Pick<Workbench, Changeable>>) => void;
  changeBurner: (part: Partial<BurnerFields>) => void;
  changeSetup: (part: Partial<SetupFields>) => void;
  /** Fills the form with a known burner and its setup. */
  loadBurner: (burner: Burner) => void;
  /** Empties the form for a burner that the store does not know. */
  newBurner: () => void;
  /** Closes the current capture and fills the form with its burner and setup, for another visit. */
  startNewVisit: (capture: { burnerId?: string; burner?: BurnerFacts; setup: Setup }) => void;
  /** Makes a capture that is still open the current one and fills the form from it. */
  loadCapture: (capture: {
    id: string;
    burnerId?: string;
    burner?: BurnerFacts;
    technician?: string;
    setup: Setup;
  }) => void;
}

type Changeable =
  | 'place'
  | 'theme'
  | 'captureId'
  | 'earlierId'
  | 'technician'
  | 'noteText'
  | 'proofNote'
  | 'sparkDelay'
  | 'practiceOpen';

/** What a reload must not lose. The current capture itself is requested from the host again. */
const kept = [
  'place',
  'theme',
  'technician',
  'burner',
  'setup',
  'noteText',
  'proofNote',
  'sparkDelay',
  'practiceOpen',
  'captureId',
] as const satisfies (keyof Workbench)[];
type Kept = (typeof kept)[number];

const burnerFields = (facts: BurnerFacts | undefined, id: string | undefined): BurnerFields => ({
  ...emptyBurnerFields,
  ...Object.fromEntries(Object.keys(emptyBurnerFields).map((key) => [key, facts?.[key as keyof BurnerFacts] ?? ''])),
  id,
});

export const useWorkbench = create<Workbench>()(
  persist(
    (set) => ({
      place: 'burner',
      theme: 'system',
      captureId: undefined,
      earlierId: undefined,
      technician: '',
      burner: emptyBurnerFields,
      setup: emptySetupFields,
      noteText: '',
      proofNote: '',
      sparkDelay: '',
      practiceOpen: true,
      go: (place) => set({ place }),
      change: (part) => set(part),
      changeBurner: (part) => set((state) => ({ burner: { ...state.burner, ...part } })),
      changeSetup: (part) => set((state) => ({ setup: { ...state.setup, ...part } })),
      loadBurner: (burner) =>
        set((state) => ({
          burner: burnerFields(burner, burner.id),
          setup: fieldsFromSetup(burner.setup, state.setup),
        })),
      newBurner: () => set((state) => ({ burner: emptyBurnerFields, setup: fieldsFromSetup({}, state.setup) })),
      startNewVisit: (capture) =>
        set((state) => ({
          captureId: undefined,
          earlierId: undefined,
          burner: burnerFields(capture.burner, capture.burnerId),
          setup: fieldsFromSetup(capture.setup, state.setup),
        })),
      loadCapture: (capture) =>
        set((state) => ({
          captureId: capture.id,
          technician: capture.technician ?? state.technician,
          burner: burnerFields(capture.burner, capture.burnerId),
          setup: fieldsFromSetup(capture.setup, state.setup),
        })),
    }),
    {
      name: 'pilot-bench',
      version: 1,
      // A form that was kept by an earlier version has no text for fields that came later.
      merge: (stored, state) => {
        const restored = { ...state, ...(stored as Partial<Pick<Workbench, Kept>>) };
        return { ...restored, setup: { ...state.setup, ...restored.setup } };
      },
      partialize: (state) => Object.fromEntries(kept.map((key) => [key, state[key]])) as Pick<Workbench, Kept>,
    },
  ),
);

/** The present state and its actions, for event handlers, which do not re-render on changes. */
export const workbenchState = (): Workbench => useWorkbench.getState();
