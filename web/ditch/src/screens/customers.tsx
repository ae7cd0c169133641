// Customers off, and back: one row a meter, one tap a visit. Gas goes back behind its gate; a meter that is shut has none.
import { useState } from 'preact/hooks';

import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t, type Word } from '../words';
import { GateScreen } from './gate';

type Did = 'off' | 'on' | 'not_home';

function Meters({ way }: { way: 'off' | 'on' }) {
  const phone = usePhone();
  const { view } = phone;
  const [typed, setTyped] = useState('');
  const meters = [...new Set([...(view.plan?.meters ?? []), ...view.meters.keys()])];
  const done = meters.filter((id) => view.meters.get(id) === way).length;
  const say = (meter: string, did: Did) => phone.record({ kind: 'meter', fact: { meter, did }, source: 'tapped' });
  const add = async () => { await say(typed.trim(), way); setTyped(''); };
  return (
    <Page title={t(`customers.${way}` as Word)}
      next={typed.trim() ? { label: t('customers.add', { id: typed.trim() }), go: add } : { label: t('app.back'), go: () => phone.show('now') }}>
      <p class="sentence">{t(`customers.count.${way}` as Word, { done, all: meters.length })}</p>
      <ul class="prompts">
        {meters.map((id) => {
          const now = view.meters.get(id);
          return (
            <li key={id}>
              <p><b>{id}</b> {t(`meter.${now ?? 'none'}` as Word)}</p>
              <div class="pair" role="group" aria-label={id}>
                <button type="button" aria-pressed={now === way} onClick={() => say(id, way)}>{t(`meter.${way}` as Word)}</button>
                <button type="button" aria-pressed={now === 'not_home'} onClick={() => say(id, 'not_home')}>{t('meter.not_home')}</button>
              </div>
            </li>
          );
        })}
      </ul>
      <label>{t('customers.another')}<input value={typed} autocomplete="off" onInput={(event) => setTyped(event.currentTarget.value)} /></label>
    </Page>
  );
}

export const CustomersScreen = () => <Meters way="off" />;

export function BackOnScreen() {
  const phone = usePhone();
  const back = phone.view.acts.get('part')?.did === 'put_back';
  const go = () => phone.record({ kind: 'act', fact: { did: 'put_back', about: 'part' }, source: 'tapped' });
  return back ? <Meters way="on" /> : <GateScreen gate="put_back" label={t('gate.put_back.record')} go={() => void go()} />;
}
