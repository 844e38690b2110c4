// A camera picture made small enough to keep and to send over a weak signal.
const longestSide = 1_600;
const quality = 0.8;
const asIs = new Set(['image/jpeg', 'image/png', 'image/webp']);
const largestAsIs = 12_000_000;

/** The phone can't read this file as a picture. */
export class NotAPicture extends Error {
  override readonly name = 'NotAPicture';
}

export type Picture = { readonly bytes: ArrayBuffer; readonly mime: string };

/** Shrinks to JPEG, 1600 px at the longest side; keeps a JPEG, PNG or WebP as it is when the phone can't shrink it. */
export async function shrink(file: Blob): Promise<Picture> {
  try {
    return await redraw(file);
  } catch (error) {
    if (asIs.has(file.type) && file.size <= largestAsIs && file.size > 0) {
      return { bytes: await file.arrayBuffer(), mime: file.type };
    }
    throw new NotAPicture('This file is not a picture that this phone can read.', { cause: error });
  }
}

async function redraw(file: Blob): Promise<Picture> {
  const bitmap = await createImageBitmap(file, { imageOrientation: 'from-image' });
  const scale = Math.min(1, longestSide / Math.max(bitmap.width, bitmap.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(bitmap.width * scale));
  canvas.height = Math.max(1, Math.round(bitmap.height * scale));
  const pen = canvas.getContext('2d');
  if (!pen) throw new Error('no canvas');
  pen.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', quality));
  if (!blob) throw new Error('the canvas gave no picture');
  return { bytes: await blob.arrayBuffer(), mime: 'image/jpeg' };
}
