// The frame of every screen: the job above, one thing in the middle, one next step at the bottom.
import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

import { usePhone } from '../phone';
import { t, type Word } from '../words';

export interface Next {
  label: string;
  go: () => void;
  disabled?: boolean;
}

interface Props {
  title: string;
  next?: Next;
  also?: Next;
  children: ComponentChildren;
}

function UnitsButton() {
  const phone = usePhone();
  return (
    <button type="button" class="units-now" onClick={phone.changeUnits}>
      <span class="unseen">{t('app.units.label')} </span>
      {t(`app.units.${phone.units}` as Word).split(' ').map((unit) => <span key={unit}>{unit} </span>)}
    </button>
  );
}

export function Page({ title, next, also, children }: Props) {
  const phone = usePhone();
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => head.current?.focus(), [title]);
  return (
    <div class="page">
      <header class="head">
        <h1 ref={head} tabIndex={-1}>{title}</h1>
        <UnitsButton />
        {phone.view.work === 'drill' && <p class="drill">{t('app.practice')}</p>}
      </header>
      <main class="middle">{children}</main>
      <footer class="foot">
        {also && <button type="button" class="also" onClick={also.go} disabled={also.disabled}>{also.label}</button>}
        {next && <button type="button" class="next" onClick={next.go} disabled={next.disabled}>{next.label}</button>}
        <nav class="corner">
          <button type="button" onClick={() => phone.show('now')}>{t('now.next')}</button>
          <button type="button" onClick={() => phone.show('rest')}>{t('app.rest')}</button>
        </nav>
      </footer>
    </div>
  );
}
