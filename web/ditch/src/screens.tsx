// Every screen by its name in the address.
import type { ComponentType } from 'preact';

import type { Screen } from './job';
import { CompanyScreen } from './screens/company';
import { HandoverScreen } from './screens/handover';
import { HoleScreen } from './screens/hole';
import { LogScreen } from './screens/log';
import { NowScreen, RestScreen } from './screens/now';
import { LimitScreen, PaceScreen } from './screens/pace';
import { PipeScreen } from './screens/pipe';
import { SafetyScreen } from './screens/safety';
import { ReasonsScreen, VerdictScreen } from './screens/verdict';
import { WatchScreen } from './screens/watch';
import { ZoneScreen } from './screens/zone';

export const screens: Record<Screen, ComponentType> = {
  now: NowScreen,
  zone: ZoneScreen,
  pipe: PipeScreen,
  verdict: VerdictScreen,
  reasons: ReasonsScreen,
  safety: SafetyScreen,
  hole: HoleScreen,
  close: () => <PaceScreen way="close" />,
  open: () => <PaceScreen way="open" />,
  limit: LimitScreen,
  watch: WatchScreen,
  handover: HandoverScreen,
  log: LogScreen,
  company: CompanyScreen,
  rest: RestScreen,
};
