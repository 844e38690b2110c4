export { BringJob } from './bring';
export { OtherJobs } from './others';
