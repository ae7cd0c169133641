// What stands before a cut, an opening after it, and gas going back. The engine says what is not behind it; it is passed by
// a named reason and a second person, for what stands now. Shutting, and undoing before a cut, have no gate.
import type { JobStateReply } from '../../../shared/documents';
import { plain } from '../../../shared/plain';
import { nameFields } from '../fields';
import { useJob, Waiting } from '../parts/ask';
import { worstFirst } from '../parts/findings';
import { useSection } from '../parts/form';
import { GradeLine, Sign, type Grade } from '../parts/grade';
import { Page, type Next } from '../parts/page';
import { usePhone } from '../phone';
import { t, type Word } from '../words';

export type Gate = 'cut' | 'open_after_cut' | 'put_back';

interface Props {
  gate: Gate;
  /** What is done once nothing stands before it. */
  label: string;
  go: () => void;
  /** Another way, that nothing stands before. */
  also?: Next;
}

export function GateScreen({ gate, label, go, also }: Props) {
  const phone = usePhone();
  const { reply, ...waiting } = useJob<JobStateReply>('job-state');
  const { values, entry, rows } = useSection('name');
  const title = t(`gate.${gate}` as Word);
  if (entry) return entry;
  const stands = reply?.gates.find((one) => one.gate === gate);
  if (!stands) return <Page title={title}><Waiting {...waiting} /></Page>;
  const against = worstFirst(stands.against);
  const { own, second, reason } = values;
  const named = own && second && reason && own !== second;
  const pass = () => phone.record({ kind: 'gate_passed', fact: { gate, reason, second }, source: 'typed' });
  const next = stands.clear
    ? { label, go }
    : { label: t(named ? 'gate.pass' : 'gate.pass.names', { count: against.length }), go: pass, disabled: !named };
  return (
    <Page title={title} next={next} also={also}>
      <GradeLine grade={(against[0]?.grade ?? 'nothing_found') as Grade} large />
      <p class="note">{t(stands.clear ? 'grade.no_permission' : 'gate.stands', { count: against.length })}</p>
      <ul class="against">
        {against.map((one) => <li key={one.says}><Sign grade={one.grade} /><span class="unseen">{t(`grade.${one.grade}` as Word)} </span>{one.says}</li>)}
      </ul>
      {!stands.clear && <p class="note">{[...new Set(against.map((one) => one.action))].map((action) => `→ ${plain(action)}`).join(' ')}</p>}
      {!stands.clear && <h2>{t('gate.by')}</h2>}
      {!stands.clear && rows(nameFields)}
    </Page>
  );
}

export function CutScreen() {
  const phone = usePhone();
  const cut = async () => {
    await phone.record({ kind: 'act', fact: { did: 'cut', about: 'main' }, source: 'tapped' });
    phone.show('now');
  };
  if (phone.view.cut) return <Page title={t('gate.cut')}><p class="note large">{t('gate.cut.done')}</p></Page>;
  return <GateScreen gate="cut" label={t('gate.cut.record')} go={cut}
    also={phone.view.squeezed ? { label: t('pace.undo'), go: () => phone.show('open') } : undefined} />;
}
