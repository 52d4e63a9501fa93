import { pressureUnits, signalUnits } from '../../../shared/model/units.ts';
import { ChoiceField } from '../../ui/controls/Field.tsx';
import { Panel } from '../../ui/Panel.tsx';
import { NumberField } from './ChannelFields.tsx';
import { unitLabel } from '../../../shared/model/format.ts';
import { editorState, useEditor } from './draft/use-draft.ts';

/** The accuracy given in the meter's data sheet. */
export function AccuracyPanel({ unit }: { unit: string | undefined }) {
  const { draft } = useEditor();
  const { change } = editorState();
  const units = [...pressureUnits, ...signalUnits].map((one) => ({ value: one as string, label: unitLabel(one) }));
  return (
    <Panel name="Accuracy (data sheet)">
      <div className="field-row">
        <NumberField
          name="Percent of reading"
          value={draft.accuracyPercent}
          unit="± %"
          onChange={(accuracyPercent) => change({ accuracyPercent })}
        />
        <NumberField
          name="Plus fixed error"
          value={draft.accuracyAbsolute}
          onChange={(accuracyAbsolute) => change({ accuracyAbsolute })}
        />
        <ChoiceField
          name="Unit of fixed error"
          value={draft.accuracyUnit || unit || units[0]!.value}
          choices={units}
          onChange={(accuracyUnit) => change({ accuracyUnit })}
        />
      </div>
    </Panel>
  );
}
