// The phone: opens the store and the engine, keeps the screen in the address, and hands both to the screens.
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';

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

/** Where the page is, and how to go elsewhere: the address follows, so that a killed page comes back here. */
function usePlace(): [Place, (to: string) => void] {
  const [place, setPlace] = useState(placeNow);
  const look = () => setPlace((had) => { const now = placeNow(); return had.job === now.job && had.screen === now.screen ? had : now; });
  useEffect(() => {
    addEventListener('hashchange', look);
    return () => removeEventListener('hashchange', look);
  }, []);
  return [place, (to) => { location.hash = to; look(); }];
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

/** The sheet for a pipe. One of another pipe is never shown in its place; one in other units is, until its own is there. */
function useSheet(engine: Engines, pipe: Fact | undefined, form: Form, company: Company, units: Units): SqueezeReply | undefined {
  const last = useRef<{ of: string; sheet: SqueezeReply } | undefined>(undefined);
  const [, came] = useState(0);
  const request = pipe && squeezeRequest(pipe, form, company, units);
  const of = JSON.stringify(pipe ?? null);
  const known = request && engine.known<SqueezeReply>(request);
  if (known) last.current = { of, sheet: known };
  useEffect(() => {
    if (request && !known) void engine.ask(request).then(() => came((count) => count + 1));
  }, [JSON.stringify(request)]);
  return last.current?.of === of ? last.current.sheet : undefined;
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

function Job({ job, screen, go, props, settings, setSettings }: {
  job: string; screen: Screen; go: (to: string) => void; props: Props; settings: Props['settings']; setSettings: (settings: Props['settings']) => void;
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
  // The plan's or the map's pipe is reckoned before another is found: then it stands there, and the engine is warm.
  const sheet = useSheet(engine, shownView.pipes.at(-1), form, company, settings.units);
  const before = useSheet(engine, shownView.pipes.at(-2) ?? mapped, form, company, settings.units);
  if (!view) return <p class="note" role="status">{t('app.wait')}</p>;
  const phone: Phone = {
    store, engine, job, view, form, company, files, hole, mapped, now, tone, setTone,
    units: settings.units,
    night: settings.night,
    changeUnits: () => setSettings({ ...settings, units: settings.units === 'us' ? 'metric' : 'us' }),
    changeLook: () => setSettings({ ...settings, night: !settings.night }),
    sheet,
    before,
    record: async (draft) => {
      const by = form.name?.['own'];
      await store.append(job, { ...(by ? { by } : {}), ...draft });
      await reread();
    },
    reread,
    reloadFiles: async () => { setFiles(await filesOf(store, engine, job)); await reread(); },
    setForm: (next) => { setForm(next); void store.keep(`form ${job}`, next); },
    show: (to) => go(`${job}/${to}`),
    loadProfile: async (text, name) => setCompany(await companies.loadProfile(text, name)),
    loadTools: async (text, name) => setCompany(await companies.loadTools(text, name)),
    loadNetwork: async (text, name) => {
      await engine.load('network', text, name);
      await store.keep(networkKey(job), { text, name });
      setFiles(await filesOf(store, engine, job));
    },
    setProcedure: async (procedure) => setCompany(await companies.choose(procedure)),
    leave: () => go(''),
  };
  const ScreenNow = screens[screen];
  const outside = view.phone !== 'clear';
  return <PhoneContext.Provider value={phone}>{outside ? <ZoneScreen /> : <ScreenNow />}</PhoneContext.Provider>;
}

export function App(props: Props) {
  const { store, engine } = props;
  const [place, go] = usePlace();
  const [settings, setSettings] = useState(props.settings);
  const [jobs, setJobs] = useState<JobSummary[]>([]);
  const [trouble, forget] = useTrouble();
  useEffect(() => void store.jobs().then(setJobs), [place.job]);
  useMemo(() => { document.documentElement.className = settings.night ? 'night' : 'day'; }, [settings.night]);
  const change = (next: Props['settings']) => { setSettings(next); void store.keep('settings', next); };
  const begin = async (work: 'emergency' | 'drill', title: string, form: Form) => {
    const job = await store.begin({ kind: 'opened', fact: { title, work }, source: 'tapped' });
    await store.keep(`form ${job}`, form);
    go(`${job}/now`);
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
        ? <Job key={place.job} job={place.job} screen={place.screen} go={go} props={props} settings={settings} setSettings={change} />
        : <StartScreen jobs={jobs}
            bring={async (text, name) => go(`${isLog(text) ? (await takenIn(store, engine, text)).job : await broughtIn(store, engine, text, name)}/now`)}
            emergency={() => begin('emergency', t('start.title.emergency', { date: rfc3339(new Date()).slice(0, 16).replace('T', ' ') }), emptyForm)}
            practice={() => begin('drill', t('start.title.practice'), { pipe: firstForm, watch: {}, map: mapPipe })}
            open={(job) => go(`${job}/now`)} />}
    </>
  );
}
