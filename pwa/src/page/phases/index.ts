/** The six phases and the six checklists, by the names the routes use. */
import type { ComponentType } from 'preact'
import type { JobView, ListName, Phase } from '../../shared/job'
import { LayoutScreen } from './layout/screen'
import { NextDaysScreen } from './next-days/screen'
import { DebrisList, PourScreen } from './pour/screen'
import { FormsList } from './ready/forms'
import { IsolationList } from './ready/isolation'
import { ReadyScreen } from './ready/screen'
import { SlopeList } from './ready/slope'
import { RecordScreen } from './record/screen'
import { ReleaseList, TouchUpList } from './texture/lists'
import { TextureScreen } from './texture/screen'

export { NewJobScreen } from './layout/job-form'

type JobScreen = ComponentType<{ job: JobView }>

export const phaseScreens: Record<Phase, JobScreen> = {
  layout: LayoutScreen,
  ready: ReadyScreen,
  pour: PourScreen,
  texture: TextureScreen,
  next_days: NextDaysScreen,
  record: RecordScreen,
}

export const listScreens: Record<ListName, JobScreen> = {
  forms: FormsList,
  isolation: IsolationList,
  slope: SlopeList,
  debris: DebrisList,
  release: ReleaseList,
  touch_up: TouchUpList,
}
