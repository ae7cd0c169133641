// Venting, fusing, testing and purging: what the engine says of each, and the record of what was done.
import type { JoinReply, PressureTestReply, PurgeReply, VentReply } from '../../../shared/documents';
import type { Fact, Kind } from '../../../shared/event';
import { resultFact } from '../../../shared/event';
import { clock, gauge, type Shown } from '../../../shared/units';
import { fuseFields, purgeFields, testFields, ventFields, type Field } from '../fields';
import { useAsk, Waiting } from '../parts/ask';
import { Figure } from '../parts/figure';
import { Findings, worstFirst } from '../parts/findings';
import { useSection } from '../parts/form';
import { GradeLine, type Grade } from '../parts/grade';
import { Page } from '../parts/page';
import type { Request } from '../../../worker/quick';
import { usePhone, type Section } from '../phone';
import { t, type Word } from '../words';

type Values = Record<string, string>;
type Reply = JoinReply | PressureTestReply | PurgeReply | VentReply;

/** The keys that were typed, as the engine reads them. */
function given(values: Values, keys: string[]): Values {
  return Object.fromEntries(keys.filter((key) => values[key]).map((key) => [key, values[key]!]));
}

interface Props<R extends Reply> {
  section: Section;
  fields: Field[];
  /** Nothing is asked while it answers nothing. */
  request: (values: Values) => Request | undefined;
  number: (reply: R) => Shown | undefined;
  cautions?: (reply: R) => string[];
  /** What is recorded of it, where it is more than that it was asked: not before `last` was typed. */
  fact?: { kind: Kind; last: string; of: (values: Values, reply: R) => Fact };
}

function BackScreen<R extends Reply>({ section, fields, request, number, cautions, fact }: Props<R>) {
  const phone = usePhone();
  const { values, entry, rows } = useSection(section);
  const asked = request(values);
  const { reply, ...waiting } = useAsk<R>(asked);
  if (entry) return entry;
  const record = async () => {
    await phone.record({ kind: 'result', fact: await resultFact(asked, reply!), source: 'tapped' });
    if (fact) await phone.record({ kind: fact.kind, fact: fact.of(values, reply!), source: 'typed' });
    phone.show('now');
  };
  const shown = reply && number(reply);
  const lacks = !reply ? 'back.first' : fact && !values[fact.last] ? 'back.readings' : undefined;
  return (
    <Page title={t(`back.title.${section}` as Word)} next={{ label: t(lacks ?? (`back.record.${section}` as Word)), go: record, disabled: lacks !== undefined }}>
      {reply && <GradeLine grade={reply.verdict as Grade} />}
      {shown && <Figure label={t(`back.number.${section}` as Word)} shown={shown} />}
      {reply && 'says' in reply && reply.says && <p class="sentence">{reply.says}</p>}
      <Waiting {...waiting} />
      {rows(fields)}
      {reply && <Findings findings={worstFirst(reply.findings)} />}
      {reply && <ul class="plain">{(cautions?.(reply) ?? []).map((one) => <li key={one}>{one}</li>)}</ul>}
    </Page>
  );
}

export function VentScreen() {
  const { units } = usePhone();
  return <BackScreen<VentReply> section="vent" fields={ventFields}
    request={(values) => values['volume'] && values['pressure'] && values['stack_bore'] && values['stack_length']
      ? { question: 'vent', units, ...given(values, ['volume', 'pressure', 'stack_bore', 'stack_length', 'stack_height']) } : undefined}
    number={({ takes_s }) => (takes_s === null ? undefined : { figure: clock(takes_s, 'up'), unit: '' })} />;
}

export function FuseScreen() {
  const { units, view, company } = usePhone();
  const pipe = view.pipes.at(-1) ?? {};
  return <BackScreen<JoinReply> section="fuse" fields={fuseFields}
    request={(values) => pipe['size'] && values['kind']
      ? {
          question: 'join', units, procedure: company.procedure, size: pipe['size'],
          ...Object.fromEntries(['dr', 'wall', 'material'].filter((key) => pipe[key]).map((key) => [key, pipe[key]])),
          ...given(values, ['kind', 'other_material', 'piston', 'drag', 'heater', 'ambient']),
        } : undefined}
    number={({ cooling_s }) => (cooling_s == null ? undefined : { figure: clock(cooling_s, 'up'), unit: '' })}
    cautions={({ cautions }) => cautions} />;
}

export function TestScreen() {
  const { units, view, company, hole } = usePhone();
  const pipe = view.pipes.at(-1) ?? {};
  const at = (values: Values, when: string) => [values[when], values[`${when}_temperature`]].filter(Boolean).join(' ');
  return <BackScreen<PressureTestReply> section="test" fields={testFields}
    request={(values) => pipe['size'] && values['volume'] && values['mop']
      ? {
          question: 'pressure-test', units, procedure: company.procedure, size: pipe['size'],
          ...Object.fromEntries(['dr', 'material'].filter((key) => pipe[key]).map((key) => [key, pipe[key]])),
          ...given(values, ['volume', 'mop', 'duration']),
          ...(values['ends'] ? { ends: `${values['ends']},${values['ends']}` } : {}),
          ...(values['start'] ? { start: at(values, 'start') } : {}), ...(values['end'] ? { end: at(values, 'end') } : {}),
        } : undefined}
    number={({ least_pa_gauge }) => (least_pa_gauge === null ? undefined : gauge(least_pa_gauge, units, 'up'))}
    fact={{ kind: 'tested', last: 'end', of: ({ start, end, instrument }, { judgement }) => ({
      section: hole, held: judgement === 'leak' ? 'no' : 'unknown',
      ...(start ? { at_start: start } : {}), ...(end ? { at_end: end } : {}), ...(instrument ? { instrument } : {}),
    }) }} />;
}

export function PurgeScreen() {
  const { units, company, hole } = usePhone();
  return <BackScreen<PurgeReply> section="purge" fields={purgeFields}
    request={(values) => values['bore'] && values['length']
      ? {
          question: 'purge', units, procedure: company.procedure, ...given(values, ['bore', 'length', 'stack_bore', 'stack_height', 'line_pressure']),
          ...(values['reading_1'] ? { readings: [values['reading_1'], values['reading_2']].filter(Boolean) } : {}),
        } : undefined}
    number={({ time_s }) => (time_s == null ? undefined : { figure: clock(time_s, 'up'), unit: '' })}
    fact={{ kind: 'purged', last: 'reading_2', of: ({ reading_1, reading_2, detector }) => ({
      section: hole, ...(detector ? { detector } : {}),
      ...(reading_1 ? { reading_1: reading_1.replace('gas', '') } : {}), ...(reading_2 ? { reading_2: reading_2.replace('gas', '') } : {}),
    }) }} />;
}
