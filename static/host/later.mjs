// What the console shows later than its lobby comes after the first load.

export { CountInSeason } from './count-in-season.mjs';
export { Photos } from './photos.mjs';
export { StationDesk } from './station.mjs';
