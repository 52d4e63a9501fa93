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
import type { Made } from './draft/make-profile.ts';
import { editorState, savedTextOf, useEditor } from './draft/use-draft.ts';

/** The profile's name, and the ways to keep it: in the store, or as a file of one's own. */
export function SavePanel({ made, meters }: { made: Made; meters: readonly MeterState[] }) {
  const { draft, savedText, follow } = useEditor();
  const save = useHostAction('profiles.save', ['profiles.list']);
  const connect = useHostAction('meters.connect');
  const { data: kept } = useHostQuery('profiles.list', {});
  const [refused, setRefused] = useState('');
  const [notices, setNotices] = useState<string[]>([]);
  const [tried, setTried] = useState(false);
  const { profile, problems } = made;
  const isSaved = savedText === savedTextOf(draft);
  const port =
    meters.find((meter) => meter.port === follow)?.port ?? (meters.length === 1 ? meters[0]!.port : undefined);
  const isUsed = profile && meters.some((meter) => meter.port === port && meter.profile === profile.name);

  const isThere = kept?.some((one) => !one.builtIn && one.profile.name === draft.name.trim());

  const keep = async () => {
    setTried(true);
    if (!profile) return undefined;
    const done = await save.run({ profile });
    if (done) editorState().putSaved(editorState().draft);
    return done;
  };
  const load = async (file: File | undefined) => {
    if (!file) return;
    const read = readProfile({ file: file.name, text: await file.text() });
    setRefused(read.ok ? '' : read.fault.message);
    setNotices(read.ok ? read.value.notices : []);
    if (read.ok) editorState().put(draftOf(read.value.profile, editorState().draft.lines));
  };

  const trouble = refused || (save.fault ?? connect.fault)?.message;
  return (
    <Panel name="Keep it">
      <TextField name="Name of the profile" value={draft.name} onChange={(name) => editorState().change({ name })} />
      {tried && problems.map((problem) => <Notice key={problem} tone="doubt" text={problem} />)}
      {notices.map((notice) => (
        <Notice key={notice} tone="doubt" text={notice} />
      ))}
      {trouble && <Notice tone="bad" text={trouble} />}
      {isSaved && profile && <Notice tone="good" text="Saved. It can be chosen under Connect a meter." />}
      <div className="row">
        <Button kind="main" disabled={save.busy} onClick={() => void keep()}>
          {isThere ? 'Save over the old one' : 'Save'}
        </Button>
        {port && (
          <Button
            disabled={!profile || save.busy || connect.busy}
            onClick={() =>
              void keep().then((done) => (done && profile ? connect.run({ port, profile: profile.name }) : undefined))
            }
          >
            {isUsed ? `Save and connect ${port} anew` : `Save and use on ${port}`}
          </Button>
        )}
        <Button
          onClick={() => {
            setTried(true);
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
