// Findings in the engine's words, worst first, each with what to do.
import type { SqueezeReply } from '../../../shared/documents';
import { plain } from '../../../shared/plain';
import { t } from '../words';
import { GradeLine, type Grade } from './grade';

type Finding = SqueezeReply['findings'][number];
const order: Grade[] = ['halt', 'undecided', 'warn', 'info', 'nothing_found'];

export function worstFirst(findings: Finding[]): Finding[] {
  return [...findings].sort((a, b) => order.indexOf(a.grade) - order.indexOf(b.grade));
}

/** Who settles what the verdict rests on. */
export function Decides({ who }: { who: SqueezeReply['decides'] }) {
  return <p class="note"><b>{t('who.decides', { who: who.map((one) => t(`who.${one}`)).join('; ') })}</b> {t('grade.none_permits')}</p>;
}

export function Findings({ findings, sources }: { findings: Finding[]; sources?: boolean }) {
  return (
    <ol class="findings">
      {findings.map((finding) => (
        <li key={finding.rule + finding.says}>
          <GradeLine grade={finding.grade} />
          <p>{finding.says}</p>
          <p class="do">→ {plain(finding.action)}</p>
          {sources && <p class="source">{t('who.decides', { who: t(`who.${finding.decides}`) })} {t('reasons.source', { source: finding.source })}</p>}
        </li>
      ))}
    </ol>
  );
}
