export { HeatCare } from './care'
export { heatAsks, heatHours, levelOf, type HeatHour } from './hours'
