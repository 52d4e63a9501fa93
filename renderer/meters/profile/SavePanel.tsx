import { useState } from 'react';
import type { MeterState } from '../../../shared/contract/api.ts';
import { readProfile } from '../../../shared/instruments/profile-file.ts';
import { useHostAction, useHostQuery } from '../../state/host-calls.ts';
import { saveFile } from '../../ui/controls/save-file.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { FileButton } from '../../ui/controls/FileButton.tsx';
import { TextField } from '../../ui/controls/Field.tsx';
import { Panel } from '../../ui/Panel.tsx';
import { Notice } from '../../ui/Notice.tsx';
import { draftOf } from './draft/draft.ts';
import type { MakeProfileResult } from './draft/make-profile.ts';
import { draftText, editorState, useEditor } from './draft/use-draft.ts';

/** The profile's name, and how to save it: in the store, or as a file. */
export function SavePanel({ result, meters }: { result: MakeProfileResult; meters: readonly MeterState[] }) {
  const { draft, savedText, follow } = useEditor();
  const save = useHostAction('profiles.save', ['profiles.list']);
  const connect = useHostAction('meters.connect');
  const { data: profiles } = useHostQuery('profiles.list', {});
  const [refused, setRefused] = useState('');
  const [notices, setNotices] = useState<string[]>([]);
  const [showsProblems, setShowsProblems] = useState(false);
  const { profile, problems } = result;
  const isSaved = savedText === draftText(draft);
  const port =
    meters.find((meter) => meter.port === follow)?.port ?? (meters.length === 1 ? meters[0]!.port : undefined);
  const isUsed = profile && meters.some((meter) => meter.port === port && meter.profile === profile.name);

  const exists = profiles?.some((one) => !one.builtIn && one.profile.name === draft.name.trim());

  const saveProfile = async () => {
    setShowsProblems(true);
    if (!profile) return undefined;
    const done = await save.run({ profile });
    if (done) editorState().setSavedDraft(editorState().draft);
    return done;
  };
  const load = async (file: File | undefined) => {
    if (!file) return;
    const read = readProfile({ file: file.name, text: await file.text() });
    setRefused(read.ok ? '' : read.fault.message);
    setNotices(read.ok ? read.value.notices : []);
    if (read.ok) editorState().setDraft(draftOf(read.value.profile, editorState().draft.lines));
  };

  const error = refused || (save.fault ?? connect.fault)?.message;
  return (
    <Panel name="Save the profile">
      <TextField name="Profile name" value={draft.name} onChange={(name) => editorState().change({ name })} />
      {showsProblems && problems.map((problem) => <Notice key={problem} tone="warning" text={problem} />)}
      {notices.map((notice) => (
        <Notice key={notice} tone="warning" text={notice} />
      ))}
      {error && <Notice tone="bad" text={error} />}
      {isSaved && profile && <Notice tone="good" text="Saved. You can choose it under “Connect a meter”." />}
      <div className="row">
        <Button kind="main" disabled={save.busy} onClick={() => void saveProfile()}>
          {exists ? 'Replace the saved profile' : 'Save'}
        </Button>
        {port && (
          <Button
            disabled={!profile || save.busy || connect.busy}
            onClick={() =>
              void saveProfile().then((done) =>
                done && profile ? connect.run({ port, profile: profile.name }) : undefined,
              )
            }
          >
            {isUsed ? `Save and reconnect ${port}` : `Save and use on ${port}`}
          </Button>
        )}
        <Button
          onClick={() => {
            setShowsProblems(true);
            if (profile)
              saveFile(
                `${profile.name.replaceAll(/[^\p{L}\p{N}]+/gu, '-')}.json`,
                new TextEncoder().encode(`${JSON.stringify(profile, undefined, 2)}\n`),
              );
          }}
        >
          Save as file
        </Button>
        <FileButton
          label="Open profile file"
          name="Profile file"
          accept=".json,application/json"
          onChoose={([file]) => void load(file)}
        />
      </div>
    </Panel>
  );
}
