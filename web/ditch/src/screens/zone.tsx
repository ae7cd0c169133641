// Where the phone is. In the gas there is one thing to do with it, and nothing else on the screen.
import { phonePrompt } from '../job';
import { usePhone } from '../phone';
import { t } from '../words';

export function ZoneScreen() {
  const phone = usePhone();
  const say = async (clear: boolean) => {
    await phone.record({ kind: 'prompt', fact: { says: phonePrompt, answer: clear ? 'yes' : 'no' }, source: 'tapped' });
    if (clear) phone.show('now');
  };
  if (phone.view.phone === 'gas')
    return (
      <main class="leave">
        <h1>{t('zone.leave')}</h1>
        <p>{t('zone.leave.why')}</p>
        <p>{t('zone.leave.paper')}</p>
        <button type="button" class="next" onClick={() => say(true)}>{t('zone.cleared')}</button>
      </main>
    );
  return (
    <main class="zone">
      <h1>{t('zone.ask')}</h1>
      <button type="button" class="slab" onClick={() => say(true)}>{t('zone.clear')}</button>
      <button type="button" class="slab dark" onClick={() => say(false)}>{t('zone.gas')}</button>
    </main>
  );
}
