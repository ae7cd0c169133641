// Before any job: one slab for gas that blows, one for practice, and the jobs on this phone.
import type { JobSummary } from '../../../shared/store';
import { t } from '../words';

interface Props {
  jobs: JobSummary[];
  emergency: () => void;
  practice: () => void;
  open: (job: string) => void;
}

export function StartScreen({ jobs, emergency, practice, open }: Props) {
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
