/** How close one published quantity must be met. */
export interface Tolerance {
  /** Largest error that passes, in the quantity's unit; set just above the achieved error. */
  readonly within: number;
  /** The error is divided by the published value. */
  readonly relative?: true;
  /** How many comparisons the tests make; one missing fails. */
  readonly comparisons: number;
  readonly source: string;
}

/** The one table of tolerances of tests/published, by test file and quantity. */
export const TOLERANCES = {
  psychrometrics: {
    'e0(T), kPa': { within: 5.2e-4, comparisons: 53, source: 'FAO-56 annex 2, table 2.3' },
    'slope, kPa/K': { within: 4.1e-4, comparisons: 9, source: 'FAO-56 annex 2, table 2.4' },
    'P(z), kPa': { within: 0.046, comparisons: 9, source: 'FAO-56 annex 2, table 2.1; example 2' },
    'gamma(z), kPa/K': { within: 5e-4, comparisons: 6, source: 'FAO-56 annex 2, table 2.2; example 2' },
    'worked examples, kPa': { within: 0.0046, comparisons: 11, source: 'FAO-56 examples 2 to 6' },
    'hourly examples, kPa': { within: 2.6e-4, comparisons: 6, source: 'FAO-56 example 19' },
    'dew point, °C': { within: 4.5e-4, comparisons: 4, source: 'FAO-56 Eq 11 inverted (computed)' },
    'wet bulb, °C': { within: 0.0032, comparisons: 5, source: 'FAO-56 Eq 15 solved (computed)' },
    'saturation pressure, share': {
      within: 0.0013,
      relative: true,
      comparisons: 7,
      source: 'ASHRAE in psychrolib; IAPWS-IF97 region 4',
    },
    'psychrolib dew point, K': {
      within: 0.0096,
      comparisons: 40,
      source: 'psychrolib, ASHRAE Fundamentals 2017',
    },
    'psychrolib wet bulb, K': {
      within: 0.075,
      comparisons: 40,
      source: 'psychrolib, ASHRAE Fundamentals 2017',
    },
  },
  'mass-transfer': {
    'Nusselt number': {
      within: 3.5e-6,
      comparisons: 4,
      source: 'test values of the ht library: Baehr, McAdams',
    },
    'forced conductance, mm/s': {
      within: 0.079,
      comparisons: 12,
      source: 'Sh = 0.664 Re^1/2 Sc^1/3 (computed)',
    },
    'mixed over forced at 2 m/s': {
      within: 0.0018,
      comparisons: 3,
      source: 'Stanghellini 1987 against the laminar plate',
    },
    'surface temperature, °C': { within: 0.075, comparisons: 7, source: 'block model table (computed)' },
    'hours to lose 0.30, share': {
      within: 0.013,
      relative: true,
      comparisons: 21,
      source: 'block model table (computed)',
    },
    'loss of a face, share': {
      within: 0.0038,
      relative: true,
      comparisons: 6,
      source: 'block model table (computed)',
    },
  },
  evaporation: {
    'ETo, mm/d': { within: 0.016, comparisons: 2, source: 'FAO-56 examples 17 and 18' },
    'Δ/(Δ+γ)': { within: 4.2e-4, comparisons: 4, source: 'FAO-56 Eq 8 and 13 (computed)' },
    'Priestley–Taylor, mm per MJ/m²': {
      within: 3e-4,
      comparisons: 4,
      source: 'Priestley & Taylor 1972 (computed)',
    },
    'example 31 De, mm': { within: 0.0052, comparisons: 10, source: 'FAO-56 example 31' },
    'example 31 ETc, mm': { within: 0.052, comparisons: 10, source: 'FAO-56 example 31' },
    'example 31 Kr': { within: 0.0032, comparisons: 10, source: 'FAO-56 example 31' },
    'example 35 De as printed, mm': { within: 0.67, comparisons: 10, source: 'FAO-56 example 35' },
    'example 35 De unrounded, mm': { within: 0.06, comparisons: 10, source: 'FAO-56 example 35 (computed)' },
    'example 35 ETc, mm': { within: 0.25, comparisons: 10, source: 'FAO-56 example 35' },
    'drying time of dates, h': {
      within: 0.004,
      comparisons: 1,
      source: 'Berk, Food Process Engineering, example 22.4',
    },
    'drying time, h': {
      within: 9.1e-5,
      comparisons: 2,
      source: 'Treybal example 6.9 (Scilab companion)',
    },
    'drying time, s': { within: 0.19, comparisons: 1, source: 'university exercise on a falling rate' },
    'water content, m³/m³': {
      within: 1e-9,
      comparisons: 9,
      source: 'odex (Hairer & Wanner), tolerance 1e-12',
    },
  },
  retention: {
    'water content, m³/m³': {
      within: 5.2e-5,
      comparisons: 17,
      source: 'van Genuchten 1980, peat pedotransfer rows; Carsel & Parrish 1988',
    },
    'available water, m³/m³': {
      within: 5e-4,
      comparisons: 2,
      source: 'de Boodt & Verdonck definitions (computed)',
    },
    'container capacity, m³/m³': {
      within: 5.1e-4,
      comparisons: 10,
      source: 'mean over the height (computed)',
    },
    'block volume, mL': { within: 0.0066, comparisons: 3, source: 'geometry' },
    'tray volume, L': { within: 0.0045, comparisons: 3, source: 'geometry' },
    'depth of medium, mm': { within: 0.0074, comparisons: 3, source: 'geometry' },
    'dose for 0.30, L': { within: 0.0056, comparisons: 3, source: 'geometry' },
    'occupied area, m²': { within: 2.1e-5, comparisons: 3, source: '14 x 18 in' },
    'between Topp points, m³/m³': { within: 0.0058, comparisons: 6, source: 'Topp, Davis & Annan 1980' },
  },
  sun: {
    'angles, rad': { within: 3.6e-4, comparisons: 3, source: 'FAO-56 example 8' },
    'Ra, MJ/(m² d)': { within: 0.046, comparisons: 3, source: 'FAO-56 examples 8 and 10' },
    'daylight, h': { within: 0.036, comparisons: 2, source: 'FAO-56 examples 9 and 10' },
    'seasonal correction, h': { within: 4.4e-5, comparisons: 1, source: 'FAO-56 example 19 (from memory)' },
    'hour angle, rad': { within: 1.6e-4, comparisons: 1, source: 'FAO-56 example 19 (from memory)' },
    'hourly Ra, MJ/(m² h)': { within: 4.4e-4, comparisons: 1, source: 'FAO-56 example 19 (from memory)' },
    'clear sky, MJ/(m² h)': { within: 1.4e-4, comparisons: 1, source: 'FAO-56 example 19 (from memory)' },
  },
  scores: {
    pinball: { within: 3.5e-8, comparisons: 8, source: 'sktime and scikit-learn documentation' },
    CRPS: { within: 4.5e-8, comparisons: 5, source: 'Gneiting & Raftery 2007 (computed)' },
    'interval score': { within: 1e-9, comparisons: 3, source: 'Gneiting & Raftery 2007 (computed)' },
    'normal distribution': { within: 1e-9, comparisons: 6, source: 'normal table' },
  },
  kalman: {
    state: { within: 0.0044, comparisons: 20, source: 'kalmanfilter.net tutorial, inputs; list recomputed' },
    variance: {
      within: 0.0052,
      comparisons: 20,
      source: 'kalmanfilter.net tutorial, inputs; list recomputed',
    },
    'Nile log-likelihood': {
      within: 5e-5,
      comparisons: 1,
      source: 'R datasets::Nile, StructTS variances (computed)',
    },
    'Nile level and variances': {
      within: 0.0022,
      comparisons: 3,
      source: 'R datasets::Nile, StructTS variances (computed)',
    },
  },
  fit: {
    'certified parameters, share': { within: 1e-8, relative: true, comparisons: 22, source: 'NIST StRD' },
    'ml-levenberg-marquardt, share': {
      within: 1e-8,
      relative: true,
      comparisons: 8,
      source: 'ml-levenberg-marquardt 5, central differences, from the second starts',
    },
    'certified standard errors, share': {
      within: 1e-8,
      relative: true,
      comparisons: 4,
      source: 'NIST StRD',
    },
    'certified residual sum of squares, share': {
      within: 1e-9,
      relative: true,
      comparisons: 10,
      source: 'NIST StRD',
    },
  },
} as const satisfies Record<string, Record<string, Tolerance>>;
