/** The functions of psychrolib 1.1 that the tests use as an oracle; the package carries no types. */
declare module 'psychrolib' {
  interface Psychrometrics {
    readonly SI: number;
    SetUnitSystem(system: number): void;
    /** Pa at °C. */
    GetSatVapPres(temperatureC: number): number;
    /** °C; humidity 0 to 1. */
    GetTDewPointFromRelHum(temperatureC: number, relativeHumidity: number): number;
    /** °C; humidity 0 to 1, pressure Pa. */
    GetTWetBulbFromRelHum(temperatureC: number, relativeHumidity: number, pressurePa: number): number;
    /** Pa at m. */
    GetStandardAtmPressure(elevationM: number): number;
    /** kg/kg. */
    GetHumRatioFromTWetBulb(temperatureC: number, wetBulbC: number, pressurePa: number): number;
  }
  const psychrolib: Psychrometrics;
  export default psychrolib;
}
