import { PNG } from 'pngjs';

/** A screenshot's brightness by pixel, 0 black to 255 white: the mean of red, green and blue. */
export type Brightness = { width: number; height: number; at: (x: number, y: number) => number };

export function brightnessOf(png: Uint8Array): Brightness {
  const { width, height, data } = PNG.sync.read(Buffer.from(png));
  const at = (x: number, y: number) => {
    const from = (Math.round(y) * width + Math.round(x)) * 4;
    return ((data[from] ?? 0) + (data[from + 1] ?? 0) + (data[from + 2] ?? 0)) / 3;
  };
  return { width, height, at };
}
