import { setPointRules, setupDefaults, type SetPointRule } from '../../shared/model/setup.ts';
import { ChoiceField } from '../ui/controls/Field.tsx';
import { Panel } from '../ui/Panel.tsx';
import { FanOnlyCheck } from './FanOnlyCheck.tsx';
import { useSetupForm } from './form.ts';
import { SetupField } from './SetupField.tsx';

const ruleNames: Record<SetPointRule, string> = {
  'equal-pressure': 'Equal margins in pressure',
  'equal-flow': 'Equal margins in gas flow',
  'equal-ratio': 'Equal ratios of pressure',
};

/** What the burner's manual requires. */
export function MakerRequirements() {
  return (
    <Panel name="Maker’s requirements">
      <SetupField field="makerLow" name="Minimum pilot pressure" unit={{ choose: 'makerUnit' }} />
      <SetupField field="makerHigh" name="Maximum pilot pressure" unit={{ choose: 'makerUnit' }} />
      <SetupField field="minimumSignal" name="Minimum flame signal" unit={{ choose: 'minimumSignalUnit' }} />
      <SetupField
        field="trialSeconds"
        name="Pilot trial time"
        unit={{ fixed: 's' }}
        help={`If empty: ${setupDefaults.pilotTrialSeconds} s (common practice)`}
      />
      <SetupField
        field="purgeSeconds"
        name="Purge before each trial"
        unit={{ fixed: 's' }}
        help={`If empty: ${setupDefaults.purgeSeconds} s (common practice)`}
      />
      <SetupField
        field="fanOnly"
        name="Fan-only pressure"
        unit={{ choose: 'fanOnlyUnit' }}
        help="Manometer reading with the pilot valve closed and the fan running, the damper as at light-off"
      />
      <FanOnlyCheck />
    </Panel>
  );
}

/** Accuracy of the meters, and how the set point is chosen. */
export function MetersAndRule() {
  const { fields, isFixed, change, save } = useSetupForm();
  return (
    <Panel name="Meters and set point">
      <SetupField field="pressurePercent" name="Manometer accuracy (data sheet)" unit={{ fixed: '± % of reading' }} />
      <SetupField
        field="pressureAbsolute"
        name="Manometer accuracy: plus fixed error"
        unit={{ choose: 'pressureAbsoluteUnit' }}
      />
      <SetupField field="signalPercent" name="Signal meter accuracy (data sheet)" unit={{ fixed: '± % of reading' }} />
      <SetupField
        field="signalAbsolute"
        name="Signal meter accuracy: plus fixed error"
        unit={{ choose: 'signalAbsoluteUnit' }}
      />
      <ChoiceField
        name="Set point rule"
        value={fields.setPointRule}
        disabled={isFixed}
        choices={setPointRules.map((rule) => ({ value: rule, label: ruleNames[rule] }))}
        onChange={(setPointRule) => {
          change({ setPointRule });
          save();
        }}
      />
      <SetupField
        field="dropPercent"
        name="Allowed signal drop"
        unit={{ fixed: '%' }}
        help={`Below the plateau. If empty: ${setupDefaults.signalDropFraction * 100} %`}
      />
      <SetupField
        field="confidencePercent"
        name="Confidence"
        unit={{ fixed: '%' }}
        help={`If empty: ${setupDefaults.confidence * 100} %`}
      />
    </Panel>
  );
}
