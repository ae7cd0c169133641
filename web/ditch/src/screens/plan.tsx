// The plan on the table: what is shut where, at which place this phone is, and who takes the plan on.
import { Page } from '../parts/page';
import { useSection } from '../parts/form';
import { usePhone } from '../phone';
import { nameFields } from '../fields';
import { t, type Word } from '../words';
import { pipeText } from './now';

export function PlanScreen() {
  const phone = usePhone();
  const { plan, accepted, acts } = phone.view;
  const { values, entry, rows } = useSection('name');
  if (!plan) return <Page title={t('plan.title')}><p class="note">{t('plan.none')}</p></Page>;
  if (entry) return entry;
  const own = values['own'];
  const takeOn = async () => {
    const { plan_id, engine, result } = plan;
    await phone.record({ kind: 'plan_accepted', fact: { plan_id, engine, result }, source: 'tapped' });
    phone.show('now');
  };
  const next = accepted
    ? { label: t('plan.steps', { count: plan.steps.length }), go: () => phone.show('steps') }
    : { label: t(own ? 'plan.accept' : 'plan.accept.name'), go: takeOn, disabled: !own };
  return (
    <Page title={t('plan.title')} next={next}>
      <p class="note">{t('plan.says', { shutoffs: plan.shutoffs.length, steps: plan.steps.length, meters: plan.meters.length })}</p>
      <h2>{t('plan.where')}</h2>
      <div class="rows">
        {plan.shutoffs.map(({ id, kind, place, pipe }) => (
          <button type="button" class="row" key={id} aria-pressed={phone.hole === id} onClick={() => phone.setForm({ ...phone.form, hole: id })}>
            <span><b>{id}</b> {place ?? t(`kind.${kind}` as Word)}{pipe ? `, ${pipeText(pipe)}` : ''}</span>
            <strong>{t(`did.${acts.get(id)?.did ?? 'nothing'}` as Word)}</strong>
          </button>
        ))}
      </div>
      <h2>{t('plan.who')}</h2>
      {rows(nameFields.slice(0, 1))}
    </Page>
  );
}
