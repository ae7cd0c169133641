// Before any job: one slab for gas that blows, one for practice, a file to begin from, and the jobs on this phone.
import type { JobSummary } from '../../../shared/store';
import { FileButton } from '../parts/file';
import { t } from '../words';

interface Props {
  jobs: JobSummary[];
  emergency: () => void;
  practice: () => void;
  /** A plan, or the log of another phone, as a file. */
  bring: (text: string, name: string) => Promise<void>;
  open: (job: string) => void;
}

export function StartScreen({ jobs, emergency, practice, bring, open }: Props) {
  return (
    <main class="start">
      <h1>{t('app.name')}</h1>
      <button type="button" class="slab alarm" onClick={emergency}>
        <strong>{t('start.emergency')}</strong>
        <span>{t('start.emergency.why')}</span>
      </button>
      <button type="button" class="slab" onClick={practice}>
        <strong>{t('start.practice')}</strong>
        <span>{t('start.practice.why')}</span>
      </button>
      <FileButton label={t('start.bring')} take={bring} />
      {jobs.length > 0 && <h2>{t('start.jobs')}</h2>}
      <div class="rows">
        {jobs.map(({ job, opened, count }) => (
          <button type="button" class="row" key={job} onClick={() => open(job)}>
            <span>{String(opened.fact['title'])}</span>
            <strong>{t('start.events', { count })}</strong>
          </button>
        ))}
      </div>
    </main>
  );
}
