import { mayChooseMethod } from '../../shared/light-off/agreed-method.ts';
import { methodNames, methodWords, noMethodWords } from '../../shared/advice/words.ts';
import { setupDefaults, trialMethods } from '../../shared/model/setup.ts';
import { setupFromFields } from '../state/setup/read-setup-fields.ts';
import { ChoiceField } from '../ui/controls/Field.tsx';
import { useSetupForm } from './form.ts';

/** How trials away from the setting are chosen: by margin, or by a test that looks for failures, where more than one was agreed. */
export function MethodField() {
  const { fields, isFixed, change, save } = useSetupForm();
  const mostFailures = setupFromFields(fields).setup.trialLimits?.mostFailures ?? setupDefaults.mostFailures;
  const mayChoose = mayChooseMethod(mostFailures);
  const { trialMethod } = fields;
  // One that was chosen before stays in sight, so that it can be taken back.
  const methods = trialMethods.filter((method) => mayChoose || method === trialMethod);
  return (
    <ChoiceField
      name="Trials away from the setting"
      value={trialMethod}
      disabled={isFixed}
      choices={[
        { value: 'margin' as const, label: 'Most margin, no failure sought' },
        ...methods.map((method) => ({ value: method, label: methodNames[method] })),
      ]}
      help={
        !mayChoose ? noMethodWords : trialMethod === 'margin' ? 'Others look for failures' : methodWords(mostFailures)
      }
      onChange={(chosen) => {
        change({ trialMethod: chosen });
        save();
      }}
    />
  );
}
