import { useHostAction } from '../state/host-calls.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';
import { Working } from '../ui/Working.tsx';
import { saveFile } from '../ui/controls/save-file.ts';

/** Saves the report and the data as files. */
export function SavePanels({ captureId, earlierId }: { captureId: string; earlierId: string | undefined }) {
  const report = useHostAction('report.make');
  const exported = useHostAction('files.export');
  const saveMade = async (made: Promise<{ name: string; bytes: Uint8Array } | undefined>) => {
    const file = await made;
    if (file) saveFile(file.name, file.bytes);
  };
  const make = (format: 'pdf' | 'html') =>
    saveMade(report.run({ capture: captureId, ...(earlierId !== undefined && { before: earlierId }), format }));
  const copy = (format: 'package' | 'csv') => saveMade(exported.run({ capture: captureId, format }));
  const fault = report.fault ?? exported.fault;
  return (
    <>
      <Panel name="Report">
        <div className="row">
          <Button kind="main" disabled={report.busy} onClick={() => void make('pdf')}>
            Save PDF
          </Button>
          <Button disabled={report.busy} onClick={() => void make('html')}>
            Save HTML
          </Button>
        </div>
        {report.busy && <Working name="Making the report" onCancel={report.stop} />}
      </Panel>
      <Panel name="Data">
        <div className="row">
          <Button disabled={exported.busy} onClick={() => void copy('package')}>
            Save data package
          </Button>
          <Button disabled={exported.busy} onClick={() => void copy('csv')}>
            Save CSV
          </Button>
        </div>
        {exported.busy && <Working name="Writing the file" onCancel={exported.stop} />}
        <p className="soft">
          The CSV has readings and marks, not the requirements and trials. The data package has all.
        </p>
      </Panel>
      {fault && <Notice tone={fault.code === 'cancelled' ? 'plain' : 'bad'} text={fault.message} />}
    </>
  );
}
