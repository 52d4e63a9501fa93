import { useState } from 'react';
import { visibleText } from '../../../shared/model/visible-text.ts';
import type { Profile } from '../../../shared/model/profile.ts';
import { useHostAction, useHostQuery } from '../../state/host-calls.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { Dialog } from '../../ui/controls/Dialog.tsx';
import { Panel } from '../../ui/Panel.tsx';
import { Notice } from '../../ui/Notice.tsx';
import { profileSummary } from '../profile-summary.ts';
import { draftOf, emptyDraft } from './draft/draft.ts';
import { draftText, editorState, useEditor } from './draft/use-draft.ts';

type Question = { kind: 'remove'; name: string } | { kind: 'replace'; profile: Profile | undefined };

/** The user's own profiles: edit or remove one, or start a new one. Unsaved changes are not discarded without asking. */
export function OwnProfiles() {
  const { data: profiles } = useHostQuery('profiles.list', {});
  const remove = useHostAction('profiles.remove', ['profiles.list']);
  const [question, setQuestion] = useState<Question>();
  const own = profiles?.filter(({ builtIn }) => !builtIn) ?? [];

  const edit = (profile: Profile | undefined) => {
    const { draft, setSavedDraft } = editorState();
    setSavedDraft(profile ? draftOf(profile, draft.lines) : { ...emptyDraft, lines: draft.lines });
    setQuestion(undefined);
  };
  const isUnsaved = useEditor(({ draft, savedText }) => savedText !== draftText(draft));
  const replace = (profile: Profile | undefined) =>
    isUnsaved ? setQuestion({ kind: 'replace', profile }) : edit(profile);

  const removeProfile = async (name: string) => {
    const done = await remove.run({ name });
    if (done) editorState().profileRemoved(name);
    setQuestion(undefined);
  };

  return (
    <Panel name="Your profiles">
      {remove.fault && <Notice tone="bad" text={remove.fault.message} />}
      {own.map(({ profile }) => (
        <fieldset key={profile.name} className="own-profile" aria-label={profile.name}>
          <div>
            <strong>{visibleText(profile.name)}</strong>
            <p className="soft">{profileSummary(profile)}</p>
          </div>
          <div className="row">
            <Button onClick={() => replace(profile)}>Edit</Button>
            <Button onClick={() => setQuestion({ kind: 'remove', name: profile.name })}>Remove</Button>
          </div>
        </fieldset>
      ))}
      <div className="row">
        <Button onClick={() => replace(undefined)}>New profile</Button>
      </div>
      {question?.kind === 'remove' && (
        <Dialog name={`Remove ${question.name}?`} onClose={() => setQuestion(undefined)}>
          <p>Captures recorded with it are not affected.</p>
          <div className="row">
            <Button size="large" onClick={() => setQuestion(undefined)}>
              Keep it
            </Button>
            <Button kind="stop" size="large" onClick={() => void removeProfile(question.name)}>
              Remove it
            </Button>
          </div>
        </Dialog>
      )}
      {question?.kind === 'replace' && (
        <Dialog name="Discard unsaved profile?" onClose={() => setQuestion(undefined)}>
          <div className="row">
            <Button size="large" onClick={() => setQuestion(undefined)}>
              Continue editing
            </Button>
            <Button kind="stop" size="large" onClick={() => edit(question.profile)}>
              Discard it
            </Button>
          </div>
        </Dialog>
      )}
    </Panel>
  );
}
