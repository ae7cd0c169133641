// What a question needs, as rows to tap: each row is one value, typed on the pad. Kept as it is typed.
import { useState } from 'preact/hooks';
import type { ComponentChildren } from 'preact';

import type { Field } from '../fields';
import { usePhone, type Section } from '../phone';
import { t, type Word } from '../words';
import { Entry } from './pad';

export function shownValue(field: Field, value: string): string {
  return field.words ? t(`${field.words}.${value}` as Word) : value;
}

interface RowsProps {
  fields: Field[];
  values: Record<string, string>;
  choose: (field: Field) => void;
}

export function Rows({ fields, values, choose }: RowsProps) {
  return (
    <div class="rows">
      {fields.map((one) => (
        <button type="button" class="row" key={one.key} onClick={() => choose(one)}>
          <span>{t(one.label)}</span>
          <strong class={values[one.key] ? '' : 'empty'}>{values[one.key] ? shownValue(one, values[one.key]!) : t('app.unknown')}</strong>
        </button>
      ))}
    </div>
  );
}

/** One section of the form: its rows below `children`, or the pad for the one that was tapped. */
export function useSection(section: Section) {
  const phone = usePhone();
  const [field, setField] = useState<Field | undefined>();
  const values = phone.form[section] ?? {};
  const put = (key: string, value: string) => phone.setForm({ ...phone.form, [section]: { ...values, [key]: value } });
  const entry = field && (
    <Entry key={field.key} field={field} value={values[field.key] ?? ''} leave={() => setField(undefined)}
      choices={field.choices?.[phone.units].map((value) => ({ value, label: shownValue(field, value) }))}
      take={(value) => { setField(undefined); put(field.key, value); }} />
  );
  const rows = (fields: Field[]): ComponentChildren => <Rows fields={fields} values={values} choose={setField} />;
  return { values, entry, rows };
}
