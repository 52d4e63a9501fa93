import { create } from 'zustand';
import { persist } from 'zustand/middleware';
import type { Burner } from '../../shared/contract/api.ts';
import type { BurnerFacts } from '../../shared/model/capture.ts';
import type { Setup } from '../../shared/model/setup.ts';
import { emptySetupFields, fieldsFromSetup, type SetupFields } from './setup-fields.ts';

/** Where the technician goes in a visit, in order, and the shelf of earlier captures. */
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

/** What the user arranges and what stands half-written in fields. What the host owns is never kept here. */
export interface Workbench {
  place: Place;
  theme: Theme;
  /** The capture at hand: being recorded, or opened to look at. */
  captureId: string | undefined;
  /** The earlier capture laid under the one at hand. */
  earlierId: string | undefined;
  technician: string;
  burner: BurnerFields;
  setup: SetupFields;
  noteText: string;
  proofNote: string;
  sparkDelay: string;
  practiceOpen: boolean;
  go: (place: Place) => void;
  change: (part: Partial<Pick<Workbench, Kept | 'captureId' | 'earlierId'>>) => void;
  changeBurner: (part: Partial<BurnerFields>) => void;
  changeSetup: (part: Partial<SetupFields>) => void;
  /** Takes a known burner with what is asked of it into the fields. */
  takeBurner: (burner: Burner) => void;
  /** Empty fields for a burner the store does not know. */
  newBurner: () => void;
  /** Puts the capture at hand away and takes its burner and setup into the fields for another visit. */
  newVisitAt: (capture: { burnerId?: string; burner?: BurnerFacts; setup: Setup }) => void;
  /** Takes what a capture that is still open says into the fields. */
  takeCapture: (capture: {
    id: string;
    burnerId?: string;
    burner?: BurnerFacts;
    technician?: string;
    setup: Setup;
  }) => void;
}

type Kept = 'theme' | 'technician' | 'noteText' | 'proofNote' | 'sparkDelay' | 'practiceOpen' | 'place';

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
      changeBurner: (part) => set((bench) => ({ burner: { ...bench.burner, ...part } })),
      changeSetup: (part) => set((bench) => ({ setup: { ...bench.setup, ...part } })),
      takeBurner: (burner) =>
        set((bench) => ({
          burner: burnerFields(burner, burner.id),
          setup: fieldsFromSetup(burner.setup, bench.setup),
        })),
      newBurner: () => set((bench) => ({ burner: emptyBurnerFields, setup: fieldsFromSetup({}, bench.setup) })),
      newVisitAt: (capture) =>
        set((bench) => ({
          captureId: undefined,
          earlierId: undefined,
          burner: burnerFields(capture.burner, capture.burnerId),
          setup: fieldsFromSetup(capture.setup, bench.setup),
        })),
      takeCapture: (capture) =>
        set((bench) => ({
          captureId: capture.id,
          technician: capture.technician ?? bench.technician,
          burner: burnerFields(capture.burner, capture.burnerId),
          setup: fieldsFromSetup(capture.setup, bench.setup),
        })),
    }),
    {
      name: 'pilot-bench',
      version: 1,
      // What a reload must not lose; the capture at hand is asked of the host again at start.
      partialize: ({
        place,
        theme,
        technician,
        burner,
        setup,
        noteText,
        proofNote,
        sparkDelay,
        practiceOpen,
        captureId,
      }) => ({
        place,
        theme,
        technician,
        burner,
        setup,
        noteText,
        proofNote,
        sparkDelay,
        practiceOpen,
        captureId,
      }),
    },
  ),
);

/** What is arranged at this moment, and the ways to change it: for handlers, which do not follow changes. */
export const workbenchState = (): Workbench => useWorkbench.getState();
