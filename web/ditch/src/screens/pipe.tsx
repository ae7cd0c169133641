// The pipe found. What is typed here is kept as it is typed; "This is the pipe" makes it a fact, and then the sheet is
// asked for.
import { useState } from 'preact/hooks';

import type { PipesReply, PrintLineReply, SqueezeReply } from '../../../shared/documents';
import { resultFact } from '../../../shared/event';
import { pipeFields, type Field } from '../fields';
import { useAsk, Waiting } from '../parts/ask';
import { Rows, shownValue } from '../parts/form';
import { Entry } from '../parts/pad';
import { Page } from '../parts/page';
import { pipeFact, squeezeRequest, usePhone } from '../phone';
import { printLine } from '../practice';
import { t } from '../words';
import { pipeText } from './now';

export function PipeScreen() {
  const phone = usePhone();
  const { form } = phone;
  const [field, setField] = useState<Field | undefined>();
  const [left, setLeft] = useState<string[]>([]);
  const typed = form.pipe;

  const { reply: pipes } = useAsk<PipesReply>({ question: 'pipes' });
  const request = squeezeRequest(pipeFact(typed), form, phone.company, phone.units);
  // Reckoned while the next line is typed: what is not understood is said before it is a fact, and the sheet is there at once.
  const { trouble } = useAsk<SqueezeReply>(typed['size'] ? request : undefined);
  /** Only what is on record: anything else is typed, and the engine says what it makes of it. */
  const onRecord = (key: string): string[] | undefined => {
    const system = phone.units === 'us' ? ['IPS', 'CTS'] : ['dn'];
    if (key === 'size') return pipes?.sizes.filter((size) => system.includes(size.system)).map((size) => size.name);
    if (key === 'dr') return pipes?.sizes.find((size) => size.name === typed['size'])?.ratios.map(String);
    return key === 'material' ? pipes?.materials.map((material) => material.name) : undefined;
  };
  const readLine = async (text: string) => {
    const { document } = await phone.engine.ask<PrintLineReply>({ question: 'print-line', text });
    const year = document.component?.made?.year;
    const found = { size: document.size, dr: document.ratio, material: document.material, year };
    const sure = Object.entries(found).filter(([, value]) => value != null).map(([key, value]) => [key, String(value)]);
    setLeft(document.not_understood);
    phone.setForm({ ...form, pipe: { ...typed, print_line: text, ...Object.fromEntries(sure) } });
  };
  const take = (value: string) => {
    const key = field!.key;
    setField(undefined);
    phone.setForm({ ...form, pipe: { ...typed, [key]: value } });
    if (key === 'print_line' && value) readLine(value).catch(() => setLeft([value]));
  };
  const choicesOf = (one: Field) => {
    if (one.key === 'tool')
      return [...phone.company.tools.map(({ id, title }) => ({ value: id, label: `${id}: ${title}` }))];
    const known = onRecord(one.key);
    return (known ?? one.choices?.[phone.units])?.map((value) => ({ value, label: shownValue(one, value) }));
  };
  const use = async () => {
    const fact = {
      about: phone.hole,
      pipe: pipeFact(typed),
      says: pipeText(pipeFact(typed)),
      ...(typed['print_line'] ? { print_line: typed['print_line'] } : {}),
      ...(phone.mapped ? { map_said: pipeText(phone.mapped) } : {}),
    };
    await phone.record({ kind: 'pipe_found', fact, source: 'typed' });
    phone.show('verdict');
    const { document } = await phone.engine.ask<SqueezeReply>(request);
    await phone.record({ kind: 'result', fact: await resultFact(request, document), source: 'tapped' });
  };

  if (field)
    return <Entry key={field.key} field={field} value={typed[field.key] ?? ''} choices={choicesOf(field)} take={take} leave={() => setField(undefined)} />;
  return (
    <Page title={t('pipe.title')} next={{ label: t(trouble ? 'app.bad' : typed['size'] ? 'pipe.use' : 'pipe.need'), go: use, disabled: !typed['size'] || trouble !== '' }}>
      <Waiting trouble={trouble} busy={false} />
      {phone.view.work === 'drill' && <p class="note">{t('practice.line', { line: printLine })}</p>}
      {left.length > 0 && <p class="note">{t('pipe.line.left', { words: left.join(' ') })}</p>}
      <Rows fields={pipeFields} values={typed} choose={setField} />
    </Page>
  );
}
