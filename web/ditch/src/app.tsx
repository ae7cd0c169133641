// The phone: opens the store and the engine, keeps the screen in the address, and hands both to the screens.
import { useEffect, useMemo, useState } from 'preact/hooks';

import { Stopped } from '../../worker/client';
import type { Engines } from '../../worker/quick';
import type { SqueezeReply } from '../../shared/documents';
import { rfc3339, type Fact } from '../../shared/event';
import type { JobSummary, Store } from '../../shared/store';
import type { Units } from '../../shared/units';
import { read, type JobView, type Screen } from './job';
import { Companies } from './companies';
import { pipeFact, PhoneContext, squeezeRequest, type Company, type Files, type Form, type Phone } from './phone';
import { isLog, takenIn } from './logs';
import { broughtIn, filesOf, networkKey, noFiles } from './plans';
import { firstForm, mapPipe } from './practice';
import { screens } from './screens';
import { StartScreen } from './screens/start';
import { ZoneScreen } from './screens/zone';
import { t } from './words';

interface Place {
  job: string;
  screen: Screen;
}

function placeNow(): Place {
  const [job = '', screen = 'now'] = location.hash.slice(1).split('/');
  return { job, screen: (screen in screens ? screen : 'now') as Screen };
}

function usePlace(): Place {
  const [place, setPlace] = useState(placeNow);
  useEffect(() => {
    const moved = () => setPlace(placeNow());
    addEventListener('hashchange', moved);
    return () => removeEventListener('hashchange', moved);
  }, []);
  return place;
}

function useNow(): number {
  const [now, setNow] = useState(Date.now());
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), 500);
    return () => clearInterval(timer);
  }, []);
  return now;
}

/** What went wrong outside a screen's own doing, in a sentence. */
function useTrouble(): [string, () => void] {
  const [says, setSays] = useState('');
  useEffect(() => {
    const hear = ({ reason }: PromiseRejectionEvent) => {
      if (!(reason instanceof Stopped)) return setSays(String(reason?.message ?? reason));
      const what = t('app.stopped', { says: reason.message });
      setSays(`${what}. ${t(reason.restarted ? 'app.stopped.again' : 'app.stopped.dead')}`);
    };
    addEventListener('unhandledrejection', hear);
    return () => removeEventListener('unhandledrejection', hear);
  }, []);
  return [says, () => setSays('')];
}

/** The sheet for the pipe found last, and for the one before it, the plan's or the map's. */
function useSheets(engine: Engines, view: JobView, mapped: Fact | undefined, form: Form, company: Company, units: Units) {
  const [sheets, setSheets] = useState<{ sheet?: SqueezeReply; before?: SqueezeReply }>({});
  const found = view.pipes.at(-1);
  const old = view.pipes.at(-2) ?? mapped;
  const key = JSON.stringify([found, old, form.pipe, company.procedure, company.toolsHash, units]);
  useEffect(() => {
    let current = true;
    const ask = async () => {
      if (!found) return setSheets({});
      const sheet = (await engine.ask<SqueezeReply>(squeezeRequest(found, form, company, units))).document;
      if (current) setSheets((had) => ({ ...had, sheet }));
      if (!old) return;
      const before = (await engine.ask<SqueezeReply>(squeezeRequest(old, form, company, units))).document;
      if (current) setSheets({ sheet, before });
    };
    void ask();
    return () => { current = false; };
  }, [key]);
  return sheets;
}

interface Props {
  store: Store;
  engine: Engines;
  companies: Companies;
  settings: { units: Units; night: boolean };
  newer: boolean;
  changeVersion: () => void;
}

const emptyForm: Form = { pipe: {}, watch: {} };

function Job({ job, screen, props, settings, setSettings }: {
  job: string; screen: Screen; props: Props; settings: Props['settings']; setSettings: (settings: Props['settings']) => void;
}) {
  const { store, engine, companies } = props;
  const now = useNow();
  const [view, setView] = useState<JobView | undefined>();
  const [form, setForm] = useState<Form>(emptyForm);
  const [company, setCompany] = useState<Company>(companies.none);
  const [tone, setTone] = useState(false);
  const [files, setFiles] = useState<Files>(noFiles);
  const hole = form.hole ?? view?.plan?.shutoffs[0]?.id ?? 'A';
  const reread = async () => setView(read(await store.events(job), hole));
  useEffect(() => {
    const open = async () => {
      const kept = (await store.kept<Form>(`form ${job}`)) ?? emptyForm;
      const events = await store.events(job);
      const first = read(events, kept.hole ?? read(events).plan?.shutoffs[0]?.id);
      setForm(kept);
      setView(first);
      // Files that this engine does not take stop nobody: the built-in profile stands, and the trouble is said.
      setCompany(await companies.of(first.work === 'drill'));
      setFiles(await filesOf(store, engine, job));
    };
    void open();
  }, [job]);
  useEffect(() => { if (view) void reread(); }, [hole]);
  const shownView = view ?? read([]);
  const mapped = shownView.plan?.shutoffs.find(({ id }) => id === hole)?.pipe ?? (form.map && pipeFact(form.map));
  const sheets = useSheets(engine, shownView, mapped, form, company, settings.units);
  if (!view) return <p class="note" role="status">{t('app.wait')}</p>;
  const phone: Phone = {
    store, engine, job, view, form, company, files, hole, mapped, now, tone, setTone,
    units: settings.units,
    night: settings.night,
    changeUnits: () => setSettings({ ...settings, units: settings.units === 'us' ? 'metric' : 'us' }),
    changeLook: () => setSettings({ ...settings, night: !settings.night }),
    sheet: sheets.sheet,
    before: sheets.before,
    record: async (draft) => {
      const by = form.name?.['own'];
      await store.append(job, { ...(by ? { by } : {}), ...draft });
      await reread();
    },
    reread,
    setForm: (next) => { setForm(next); void store.keep(`form ${job}`, next); },
    show: (to) => { location.hash = `${job}/${to}`; },
    loadProfile: async (text, name) => setCompany(await companies.loadProfile(text, name)),
    loadTools: async (text, name) => setCompany(await companies.loadTools(text, name)),
    loadNetwork: async (text, name) => {
      await engine.load('network', text, name);
      await store.keep(networkKey(job), { text, name });
      setFiles(await filesOf(store, engine, job));
    },
    setProcedure: async (procedure) => setCompany(await companies.choose(procedure)),
    leave: () => { location.hash = ''; },
  };
  const ScreenNow = screens[screen];
  const outside = view.phone !== 'clear';
  return <PhoneContext.Provider value={phone}>{outside ? <ZoneScreen /> : <ScreenNow />}</PhoneContext.Provider>;
}

export function App(props: Props) {
  const { store, engine } = props;
  const place = usePlace();
  const [settings, setSettings] = useState(props.settings);
  const [jobs, setJobs] = useState<JobSummary[]>([]);
  const [trouble, forget] = useTrouble();
  useEffect(() => void store.jobs().then(setJobs), [place.job]);
  useMemo(() => { document.documentElement.className = settings.night ? 'night' : 'day'; }, [settings.night]);
  const change = (next: Props['settings']) => { setSettings(next); void store.keep('settings', next); };
  const begin = async (work: 'emergency' | 'drill', title: string, form: Form) => {
    const job = await store.begin({ kind: 'opened', fact: { title, work }, source: 'tapped' });
    await store.keep(`form ${job}`, form);
    location.hash = `${job}/now`;
  };
  return (
    <>
      {trouble && <div class="banner" role="alert"><p>{trouble}</p><button type="button" onClick={forget}>{t('app.back')}</button></div>}
      {props.newer && (
        <div class="banner" role="status">
          <p>{t('app.update')} {place.job && t('app.update.later')}</p>
          {!place.job && <button type="button" onClick={props.changeVersion}>{t('app.update.now')}</button>}
        </div>
      )}
      {place.job
        ? <Job key={place.job} job={place.job} screen={place.screen} props={props} settings={settings} setSettings={change} />
        : <StartScreen jobs={jobs}
            bring={async (text, name) => { location.hash = `${isLog(text) ? (await takenIn(store, engine, text)).job : await broughtIn(store, engine, text, name)}/now`; }}
            emergency={() => begin('emergency', t('start.title.emergency', { date: rfc3339(new Date()).slice(0, 16).replace('T', ' ') }), emptyForm)}
            practice={() => begin('drill', t('start.title.practice'), { pipe: firstForm, watch: {}, map: mapPipe })}
            open={(job) => { location.hash = `${job}/now`; }} />}
    </>
  );
}
