// Every screen by its name in the address.
import type { ComponentType } from 'preact';

import type { Screen } from './job';
import { AfterScreen } from './screens/after';
import { AgainScreen } from './screens/again';
import { FuseScreen, PurgeScreen, TestScreen, VentScreen } from './screens/back';
import { ClockScreen } from './screens/clock';
import { CompanyScreen } from './screens/company';
import { BackOnScreen, CustomersScreen } from './screens/customers';
import { CutScreen } from './screens/gate';
import { HandoverScreen } from './screens/handover';
import { HoleScreen } from './screens/hole';
import { LeftScreen } from './screens/left';
import { LogScreen } from './screens/log';
import { MeetScreen } from './screens/meet';
import { NowScreen, RestScreen } from './screens/now';
import { LimitScreen, PaceScreen } from './screens/pace';
import { OrderScreen } from './screens/order';
import { PhotosScreen } from './screens/photos';
import { PipeScreen } from './screens/pipe';
import { PlanScreen } from './screens/plan';
import { PumpScreen } from './screens/pump';
import { RadioScreen } from './screens/radio';
import { SafetyScreen } from './screens/safety';
import { SignScreen } from './screens/sign';
import { StaticScreen } from './screens/static';
import { StepsScreen } from './screens/steps';
import { ReasonsScreen, VerdictScreen } from './screens/verdict';
import { WatchScreen } from './screens/watch';
import { ZoneScreen } from './screens/zone';

export const screens: Record<Screen, ComponentType> = {
  now: NowScreen,
  zone: ZoneScreen,
  plan: PlanScreen,
  steps: StepsScreen,
  pipe: PipeScreen,
  verdict: VerdictScreen,
  reasons: ReasonsScreen,
  safety: SafetyScreen,
  static: StaticScreen,
  hole: HoleScreen,
  close: () => <PaceScreen way="close" />,
  open: () => <PaceScreen way="open" />,
  limit: LimitScreen,
  pump: PumpScreen,
  watch: WatchScreen,
  left: LeftScreen,
  again: AgainScreen,
  clock: ClockScreen,
  vent: VentScreen,
  cut: CutScreen,
  fuse: FuseScreen,
  test: TestScreen,
  purge: PurgeScreen,
  after: AfterScreen,
  customers: CustomersScreen,
  order: OrderScreen,
  back: BackOnScreen,
  photos: PhotosScreen,
  sign: SignScreen,
  radio: RadioScreen,
  meet: MeetScreen,
  handover: HandoverScreen,
  log: LogScreen,
  company: CompanyScreen,
  rest: RestScreen,
};
