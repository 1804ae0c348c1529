/** The functions of psychrolib 1.1 that the tests use as an oracle; the package carries no types. */
declare module 'psychrolib' {
  interface Psychrometrics {
    readonly SI: number;
    SetUnitSystem(system: number): void;
    /** Pa at °C. */
    GetSatVapPres(temperatureC: number): number;
    /** Pa; humidity 0 to 1. */
    GetVapPresFromRelHum(temperatureC: number, relativeHumidity: number): number;
    /** Pa at m. */
    GetStandardAtmPressure(elevationM: number): number;
  }
  const psychrolib: Psychrometrics;
  export default psychrolib;
}
