/** Job files to break in tests: complete ones, with figures that are easy to follow. Ships and figures are invented. */

// biome-ignore lint/suspicious/noExplicitAny: a test takes files apart at will
export type Loose = any;

/** The plainest job there is: every field that has no default, none that has. */
export function plainJob(): Loose {
  return {
    format: 'lugwright.job',
    version: 1,
    title: 'Grating off, lighter Plover',
    display: 'metric',
    ship: {
      lpp: '40 m',
      draftAft: '2.4 m',
      draftForward: '2.2 m',
      heel: '0.5 deg',
      hull: {
        kind: 'segments',
        start: { y: '0 m', z: '0 m' },
        path: [
          { to: { y: '2 m', z: '0.3 m' } },
          { to: { y: '4 m', z: '2.3 m' }, radius: '2.2 m' },
          { to: { y: '4 m', z: '5 m' } },
        ],
      },
    },
    fittings: [plainFitting('A')],
  };
}

export function plainFitting(id: string): Loose {
  return {
    id,
    at: { station: '10 m', side: 'port', girth: '2.6 m' },
    lug: {
      foot: '300 mm',
      thickness: '30 mm',
      pinHeight: '200 mm',
      hole: '50 mm',
      topRadius: '90 mm',
      shoulder: '50 mm',
    },
    stem: 'plumb',
    heading: '0 deg',
    load: { toward: ['10.2 m', '1.5 m', '-4 m'], force: '60 kN' },
    weld: { leg: '14 mm' },
  };
}

/** Every field there is, none left to a default. */
export function fullJob(): Loose {
  const job = plainJob();
  job.fittings = [
    {
      ...plainFitting('A'),
      lug: { ...plainFitting('A').lug, cheek: { radius: '70 mm', thickness: '10 mm' } },
      cut: 'scribed',
      shackle: { wll: '25 t', pin: '48 mm', jaw: '74 mm' },
      hoist: { wll: '25 tonf' },
    },
    {
      ...plainFitting('B'),
      at: { station: '11 m', side: 'starboard', height: '0.2 m' },
      stem: { lean: '-4 deg' },
      heading: '90 deg',
      load: { direction: [0, 0.1, -1], force: '13.5 kip' },
      cut: 'straight',
    },
  ];
  return {
    ...job,
    basis: 'en-1993',
    limits: {
      fitGap: '2 mm',
      recutGap: '5 mm',
      sidewaysShare: '4 %',
      offPlane: '3 deg',
      bevel: '40 deg',
      stemToShell: '15 deg',
      level: '2 mm',
      sealedLength: '0 mm',
    },
    steel: {
      lug: { yield: '355 MPa', tensile: '490 MPa' },
      shell: {
        yield: '235 MPa',
        tensile: '400 MPa',
        thickness: '11 mm',
        stressPresent: '40 MPa',
        carbonEquivalent: 0.38,
      },
      frameSpacing: '550 mm',
      longitudinalSpacing: '650 mm',
    },
    electrode: { kind: 'ferritic', diameter: '1/8 in', length: '14 in', tensile: '70 ksi' },
    welding: { runLength: '120 mm' },
    papers: { revision: 'B', date: '2026-03-14', kerf: '2 mm', stock: '2.5 mm', cleanMargin: '60 mm', paper: 'a4' },
  };
}
