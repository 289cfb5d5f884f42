// A picture made small enough to wait on the phone and to travel as text.
const longestSide_px = 1280;
export const most_bytes = 200_000;

const bytesOf = (dataUrl: string) => dataUrl.length; // it is stored and sent as text

// Tries less quality, then fewer pixels, until it is small enough.
export function shrunk(draw: (share: number) => HTMLCanvasElement): string {
  for (let share = 1; share > 0.1; share *= 0.75) {
    const canvas = draw(share);
    for (const quality of [0.8, 0.65, 0.5]) {
      const dataUrl = canvas.toDataURL('image/jpeg', quality);
      if (bytesOf(dataUrl) <= most_bytes) return dataUrl;
    }
  }
  throw new Error('The picture cannot be made small enough.');
}

export async function pictureOf(file: Blob): Promise<string> {
  const bitmap = await createImageBitmap(file);
  const fit = Math.min(1, longestSide_px / Math.max(bitmap.width, bitmap.height));
  try {
    return shrunk((share) => {
      const canvas = document.createElement('canvas');
      canvas.width = Math.max(1, Math.round(bitmap.width * fit * share));
      canvas.height = Math.max(1, Math.round(bitmap.height * fit * share));
      canvas.getContext('2d')?.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
      return canvas;
    });
  } finally {
    bitmap.close();
  }
}
