/**
 * The drawing of `renderer/public/icon.svg`, on its grid of 32 by 32: three compressions, and the breath that begins
 * under the second. `radius` rounds the corners; `stroke` draws an outline of that width instead of an area.
 */
const SHAPES = [
  { x: 0, y: 0, width: 32, height: 32, radius: 6, colour: [0xfb, 0xfa, 0xf7] },
  { x: 4, y: 8, width: 6, height: 6, radius: 0, colour: [0x1f, 0x4e, 0x79] },
  { x: 13, y: 8, width: 6, height: 6, radius: 0, colour: [0x1f, 0x4e, 0x79] },
  { x: 22, y: 8, width: 6, height: 6, radius: 0, colour: [0x1f, 0x4e, 0x79] },
  { x: 12, y: 19, width: 16, height: 6, radius: 3, stroke: 2, colour: [0xb4, 0x61, 0x0f] },
];
const GRID = 32;
/** Points a pixel, each way: edges are smooth, and the same bytes come out everywhere. */
const POINTS = 4;

/** The icon as rows of red, green, blue and alpha, a byte each. */
export function drawIcon(size) {
  const pixels = Buffer.alloc(size * size * 4);
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column < size; column += 1) {
      const at = (row * size + column) * 4;
      pixels.set(colourOf(column, row, GRID / size), at);
    }
  }
  return pixels;
}

function colourOf(column, row, step) {
  const sum = [0, 0, 0];
  let covered = 0;
  for (let down = 0; down < POINTS; down += 1) {
    for (let across = 0; across < POINTS; across += 1) {
      const x = (column + (across + 0.5) / POINTS) * step;
      const y = (row + (down + 0.5) / POINTS) * step;
      const shape = SHAPES.findLast((one) => isInside(one, x, y));
      if (shape === undefined) continue;
      covered += 1;
      for (const [index, value] of shape.colour.entries()) sum[index] += value;
    }
  }
  if (covered === 0) return [0, 0, 0, 0];
  return [...sum.map((value) => Math.round(value / covered)), Math.round((covered * 255) / POINTS ** 2)];
}

function isInside(shape, x, y) {
  const distance = distanceTo(shape, x, y);
  return shape.stroke === undefined ? distance <= 0 : Math.abs(distance) <= shape.stroke / 2;
}

/** How far a point is from the edge of a rounded rectangle; below 0 inside. */
function distanceTo({ x, y, width, height, radius }, pointX, pointY) {
  const fromX = Math.abs(pointX - (x + width / 2)) - (width / 2 - radius);
  const fromY = Math.abs(pointY - (y + height / 2)) - (height / 2 - radius);
  const outside = Math.hypot(Math.max(fromX, 0), Math.max(fromY, 0));
  return outside + Math.min(Math.max(fromX, fromY), 0) - radius;
}
