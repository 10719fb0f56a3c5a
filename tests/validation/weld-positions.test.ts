import { describe, expect, test } from 'vitest';
import { FILLET_POSITIONS, ISO_FILLET, weldingPosition } from '../../src/weld/position.ts';

const deg = Math.PI / 180;

describe('Fillet positions: AWS D3.6M conventions (Fig. 5.1 of the 1999 edition); fillet rows from memory', () => {
  test.each([
    [90, 0, 180, '1F'],
    [45, 0, 135, '2F'],
    [35, 0, 125, '2F'],
    [34, 0, 124, '4F'],
    [0, 0, 90, '4F'],
    [-45, 0, 45, '4F'],
    [-90, 0, 0, '4F'],
    [45, 20, 135, '3F'],
    [30, 20, 120, '4F'],
  ])('face normal %d degrees above the horizontal, axis %d, rotation %d: %s', (_, axis, rotation, aws) => {
    expect(weldingPosition(axis * deg, rotation * deg).aws).toBe(aws);
  });

  test('an axis at 85 degrees is vertical whatever the face does', () => {
    for (let rotation = 0; rotation <= 180; rotation += 5)
      expect(weldingPosition(85 * deg, rotation * deg).aws).toBe('3F');
  });

  test.each([
    [15, 180, '1F'],
    [0, 150, '1F'],
    [15, 125, '2F'],
    [20, 125, '3F'],
    [80, 0, '4F'],
    [80, 180, '3F'],
  ])(
    'an edge belongs to the band that stands first (a choice; 125 is printed as horizontal): %d, %d: %s',
    (axis, rotation, aws) => {
      expect(weldingPosition(axis * deg, rotation * deg).aws).toBe(aws);
    },
  );

  test('no face rotation, axis within a degree of vertical: 3F, PF', () => {
    expect(weldingPosition(89.5 * deg, null)).toEqual({ aws: '3F', iso: 'PF' });
  });

  test('fore-and-aft lug on a flat bottom: both fillets overhead', () => {
    expect(weldingPosition(0, 45 * deg)).toEqual({ aws: '4F', iso: 'PD' });
  });

  test('horizontal plate on a vertical side: the upper fillet 2F, the lower 4F', () => {
    expect(weldingPosition(0, 135 * deg)).toEqual({ aws: '2F', iso: 'PB' });
    expect(weldingPosition(0, 45 * deg).aws).toBe('4F');
  });

  test('upright plate on a vertical side: both fillets 3F', () => {
    expect(weldingPosition(90 * deg, null).aws).toBe('3F');
    expect(weldingPosition(90 * deg, 90 * deg).aws).toBe('3F');
  });

  test('the bands tile the whole domain: off the edges one band holds each place', () => {
    for (let axis = 0.5; axis < 90; axis += 1) {
      for (let rotation = 0.5; rotation < 180; rotation += 1) {
        const holding = FILLET_POSITIONS.value.filter(
          (band) =>
            axis >= band.axis[0] &&
            axis <= band.axis[1] &&
            rotation >= band.rotation[0] &&
            rotation <= band.rotation[1],
        );
        expect(holding).toHaveLength(1);
        expect(weldingPosition(axis * deg, rotation * deg).aws).toBe(holding[0]?.aws);
      }
    }
  });

  test('both halves of the turn are mirror images', () => {
    for (let rotation = 0; rotation <= 180; rotation += 1) {
      for (const axis of [0, 14, 30, 79, 86])
        expect(weldingPosition(axis * deg, (360 - rotation) * deg)).toEqual(
          weldingPosition(axis * deg, rotation * deg),
        );
    }
  });

  test('ISO 6947 names: flat, horizontal-vertical, vertical up, horizontal overhead; pairing from memory', () => {
    expect(ISO_FILLET.value).toEqual({ '1F': 'PA', '2F': 'PB', '3F': 'PF', '4F': 'PD' });
    expect([FILLET_POSITIONS.standing, ISO_FILLET.standing]).toEqual(['not-verified', 'not-verified']);
  });

  test('angles outside their range are refused', () => {
    expect(() => weldingPosition(-0.1, 1)).toThrow(RangeError);
    expect(() => weldingPosition(1.6, 1)).toThrow(RangeError);
    expect(() => weldingPosition(1, Number.NaN)).toThrow(RangeError);
  });
});
