// The company's profile and tools: kept on the phone as the files that were loaded, given to the engine at each start.
import type { Engines } from '../../worker/quick';
import type { Store } from '../../shared/store';
import type { Company } from './phone';
import * as practice from './practice';

interface File {
  text: string;
  name: string;
}

interface Kept {
  procedure: string;
  profile?: File;
  tools?: File;
}

const key = 'company';

interface ToolsFile {
  title?: string;
  tools?: { id: string; title: string }[];
}

export class Companies {
  readonly none: Company = { procedure: 'us', profileTitle: '', toolsHash: '', toolsTitle: '', tools: [] };

  constructor(
    private readonly store: Store,
    private readonly engine: Engines,
  ) {}

  /** What questions of a job name: the company's own, or the invented company's for practice. */
  async of(drill: boolean): Promise<Company> {
    const kept: Kept = drill
      ? { procedure: 'own', profile: { text: practice.profile, name: 'profile' }, tools: { text: practice.tools, name: 'tools' } }
      : ((await this.store.kept<Kept>(key)) ?? { procedure: 'us' });
    return this.#loaded(kept);
  }

  async loadProfile(text: string, name: string): Promise<Company> {
    return this.#changed({ profile: { text, name }, procedure: 'own' });
  }

  async loadTools(text: string, name: string): Promise<Company> {
    return this.#changed({ tools: { text, name } });
  }

  async choose(procedure: string): Promise<Company> {
    return this.#changed({ procedure });
  }

  /** A file that the engine does not take is not kept. */
  async #changed(change: Partial<Kept>): Promise<Company> {
    const kept: Kept = { ...((await this.store.kept<Kept>(key)) ?? { procedure: 'us' }), ...change };
    const company = await this.#loaded(kept);
    await this.store.keep(key, kept);
    return company;
  }

  async #loaded(kept: Kept): Promise<Company> {
    const { profile, tools } = kept;
    const own = kept.procedure === 'own' && profile;
    const procedure = own ? await this.engine.load('profile', profile.text, profile.name) : kept.procedure;
    const toolsHash = tools ? await this.engine.load('tools', tools.text, tools.name) : '';
    const listed = tools ? (JSON.parse(tools.text) as ToolsFile) : {};
    return {
      procedure,
      profileTitle: own ? ((JSON.parse(profile.text) as { title?: string }).title ?? profile.name) : '',
      toolsHash,
      toolsTitle: listed.title ?? tools?.name ?? '',
      tools: (listed.tools ?? []).map(({ id, title }) => ({ id, title })),
    };
  }
}
