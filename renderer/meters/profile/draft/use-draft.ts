import { create } from 'zustand';
import { persist } from 'zustand/middleware';
import { emptyDraft, type Draft } from './draft.ts';

interface ProfileEditorState {
  /** Whether the profile editor is open in place of the list of meters. */
  isOpen: boolean;
  draft: Draft;
  /** The draft as it was last saved or loaded, as text: whether there is unsaved work. */
  savedText: string;
  /** The port whose lines are followed; undefined: the lines are frozen. */
  follow: string | undefined;
  open: (follow?: string) => void;
  close: () => void;
  change: (part: Partial<Draft>) => void;
  setDraft: (draft: Draft) => void;
  /** Sets a draft that has no unsaved changes. */
  setSavedDraft: (draft: Draft) => void;
  /** A profile was removed from the store: if it is the one in the editor, the draft counts as unsaved again. */
  profileRemoved: (name: string) => void;
  followPort: (port: string | undefined) => void;
}

/** The draft as text, to find unsaved changes. The lines shown are left out, as they are not part of a profile. */
export const draftText = ({ lines: _lines, ...draft }: Draft): string => JSON.stringify(draft);

/** The profile editor. Its draft survives leaving the place and a reload, as the other forms do. */
export const useEditor = create<ProfileEditorState>()(
  persist(
    (set) => ({
      isOpen: false,
      draft: emptyDraft,
      savedText: draftText(emptyDraft),
      follow: undefined,
      open: (follow) => set((state) => ({ isOpen: true, follow: follow ?? state.follow })),
      close: () => set({ isOpen: false }),
      change: (part) => set((state) => ({ draft: { ...state.draft, ...part } })),
      setDraft: (draft) => set({ draft }),
      setSavedDraft: (draft) => set({ draft, savedText: draftText(draft) }),
      profileRemoved: (name) => set((state) => (state.draft.name.trim() === name ? { savedText: '' } : {})),
      followPort: (follow) => set({ follow }),
    }),
    { name: 'pilot-bench-profile', version: 1 },
  ),
);

export const editorState = (): ProfileEditorState => useEditor.getState();
