import { create } from 'zustand';
import { persist } from 'zustand/middleware';
import { emptyDraft, type Draft } from './draft.ts';

interface Desk {
  /** Whether the profile desk stands in the place of the meters. */
  isOpen: boolean;
  draft: Draft;
  /** The draft as it was last saved or loaded, as text: whether there is unsaved work. */
  savedText: string;
  /** The port whose lines are followed; undefined: the lines are held. */
  follow: string | undefined;
  open: (follow?: string) => void;
  close: () => void;
  change: (part: Partial<Draft>) => void;
  put: (draft: Draft) => void;
  /** Puts the draft as one that is kept somewhere. */
  putSaved: (draft: Draft) => void;
  /** The profile of that name is kept no more: if it is the one at hand, it is unsaved work again. */
  removed: (name: string) => void;
  followPort: (port: string | undefined) => void;
}

/** What of a draft is worth saving: the lines at hand are not part of a profile. */
export const savedTextOf = ({ lines: _lines, ...draft }: Draft): string => JSON.stringify(draft);

/** The profile in the making outlives leaving the place and a reload, as the other forms do. */
export const useEditor = create<Desk>()(
  persist(
    (set) => ({
      isOpen: false,
      draft: emptyDraft,
      savedText: savedTextOf(emptyDraft),
      follow: undefined,
      open: (follow) => set((desk) => ({ isOpen: true, follow: follow ?? desk.follow })),
      close: () => set({ isOpen: false }),
      change: (part) => set((desk) => ({ draft: { ...desk.draft, ...part } })),
      put: (draft) => set({ draft }),
      putSaved: (draft) => set({ draft, savedText: savedTextOf(draft) }),
      removed: (name) => set((desk) => (desk.draft.name.trim() === name ? { savedText: '' } : {})),
      followPort: (follow) => set({ follow }),
    }),
    { name: 'pilot-bench-profile', version: 1 },
  ),
);

export const editorState = (): Desk => useEditor.getState();
