// What the next lead must hear, in under a minute: the engine reads it from the log.
import { useEffect, useState } from 'preact/hooks';

import type { JobHandoverReply } from '../../../shared/documents';
import { clock } from '../../../shared/units';
import { GradeLine, type Grade } from '../parts/grade';
import { Page } from '../parts/page';
import { usePhone } from '../phone';
import { t } from '../words';

export function HandoverScreen() {
  const phone = usePhone();
  const [card, setCard] = useState<JobHandoverReply | undefined>();
  const [from, setFrom] = useState('');
  const [to, setTo] = useState('');
  useEffect(() => {
    const ask = async () => {
      const log = await phone.store.lines(phone.job);
      const { document } = await phone.engine.ask<JobHandoverReply>({ question: 'job-handover', log, units: phone.units });
      setCard(document);
    };
    void ask();
  }, [phone.view.events, phone.units]);
  const give = async () => {
    await phone.record({ kind: 'handed_over', fact: { from, to }, source: 'typed' });
    setTo('');
  };
  return (
    <Page title={t('handover.title')} next={{ label: t('handover.give'), go: give, disabled: !from || !to }}>
      {!card && <p class="note" role="status">{t('app.wait')}</p>}
      {card && <GradeLine grade={card.verdict as Grade} />}
      {card?.lines.map((line) => (
        <section class="card" key={line.head}>
          <h2>{line.head}</h2>
          {line.says.map((one) => <p key={one}>{one}</p>)}
        </section>
      ))}
      {card && <p class="source">{t('handover.aloud', { time: clock(card.read_aloud_s, 'up') })}</p>}
      {phone.view.handedTo && <p class="note">{t('handover.given', { to: phone.view.handedTo })}</p>}
      <div class="names">
        <label>{t('handover.from')}<input value={from} autocomplete="off" onInput={(event) => setFrom(event.currentTarget.value)} /></label>
        <label>{t('handover.to')}<input value={to} autocomplete="off" onInput={(event) => setTo(event.currentTarget.value)} /></label>
      </div>
    </Page>
  );
}
