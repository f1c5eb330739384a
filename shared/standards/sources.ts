/**
 * What the short codes in `source` and in the comments of the tables stand for: where a number can be looked up.
 *
 * One line a code; standards (ISO, DIN, VDI …) are named in full where they stand. None of the books and catalogues is
 * part of the repository: a number was read from it, or recomputed, and a second source of the same number stands as a
 * check in `tests/reference/data`. `tests/unit/sources.test.ts` holds this list and the codes in use equal.
 */
export const SOURCES = {
  AGC: 'torque-wrench leaflet: the setting with an adapter',
  AMES: 'VDI 2230 friction classes and ASME B1.13M thread limits (M5, M6) as another publisher reproduces them',
  ENGE: 'an engineering reference site: ASME B1.13M-1995 limits of inner threads, M9 to M14',
  FAC: 'torque-wrench leaflet on ISO 6789: the error permitted to a wrench',
  FCM: 'open material cards (LGPL and CC-BY)',
  FMAT: 'open validation cases that encode worked answers of a course book on bolted joints, December 2025; the book itself not opened',
  FRIC: 'friction-class table of VDI 2230 (2001/2003) as reproduced elsewhere than in P681',
  FSW: 'ISO 262 table of an open fastener library',
  HKJ: 'JIS B 4648:2008 (hexagon keys) as a coupling maker excerpts it; ISO 2936 is the parallel standard',
  ICAD: 'ISO 965-1 limits of an outer M10 thread, from a table of which this code alone is recorded',
  JIND: 'a machine design textbook; chapter and example as given',
  KLU: 'a lubrication guide for screws',
  MAS: 'test values of an open implementation of ISO/TS 16281',
  OCT: 'an open fastener table set (LGPL), one table a standard, June 2026',
  OPT: 'published table: EN ISO 898-1 proof loads and thread sizes as a fastener supplier reproduces them',
  P678: 'fastener catalogue p. 678: limiting surface pressures of VDI 2230 (2001/2003)',
  P681: 'fastener catalogue p. 681: friction classes of VDI 2230 (2001/2003)',
  P711: 'fastener catalogue p. 711: thread limits of ISO 965',
  PTM: 'torque-wrench leaflet: the setting with an adapter',
  SWK: 'nut-factor table that cites a machine design textbook (5th ed., section 8-8) and a fastener guide of 1985, p. 90',
  TM9254: 'torque wrench with an adapter: US Army TM 9-254, Fig. 46',
  TMF: 'published table of ISO fine and coarse threads: d, d2, d3, stress area',
  TQW: 'torque-wrench leaflet: the setting with an adapter',
  WENT: 'a machine design textbook; example as given',
  YAM: 'general catalogue of a thread-tool maker, 2016-17, p. 799',
  btimetals: 'an alloy data table: strengths of 7075-T6, typical',
} as const satisfies Readonly<Record<string, string>>;
