import { fromBuffer } from 'yauzl';

/** What a roster's zip may hold at most: a school's whole set of lists stays far below. */
export const ZIP_LIMITS = { files: 40, bytesEach: 8_000_000, bytesTogether: 20_000_000 } as const;

/** Why a zip was not taken, in words for whoever sent it. */
export class ZipProblem extends Error {}

export function isZip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 3 && bytes[3] === 4;
}

/**
 * The files in a zip, by name. Sizes are checked before anything is unpacked, and the bytes that really come out are counted too, so that a
 * small file cannot fill the memory. Only files at its root are taken.
 * @throws ZipProblem for one that is broken, encrypted, too large, or holds folders or a name twice.
 */
export function unzip(bytes: Buffer): Promise<ReadonlyMap<string, Buffer>> {
  return new Promise((resolve, reject) => {
    const refuse = (message: string) => reject(new ZipProblem(message));
    fromBuffer(bytes, { lazyEntries: true, validateEntrySizes: true }, (broken, zip) => {
      if (broken || !zip) return refuse('This zip is broken and could not be opened. Make it again.');
      const files = new Map<string, Buffer>();
      let together = 0;
      zip.on('error', () => refuse('This zip is broken. Make it again.'));
      zip.on('end', () => resolve(files));
      zip.on('entry', (entry) => {
        const name = entry.fileName;
        if (/[\\/]/.test(name))
          return refuse(
            `The zip holds folders (${shown(name)}). Put the files at its top, without a folder.`,
          );
        if (files.size >= ZIP_LIMITS.files)
          return refuse(`The zip holds more than ${ZIP_LIMITS.files} files.`);
        if (files.has(name)) return refuse(`The zip holds ${shown(name)} twice.`);
        if (entry.isEncrypted()) return refuse('The zip is locked with a password. Send one that is not.');
        if (entry.uncompressedSize > ZIP_LIMITS.bytesEach) return refuse(tooLarge(name));
        zip.openReadStream(entry, (unreadable, stream) => {
          if (unreadable || !stream) return refuse(`${shown(name)} in the zip could not be unpacked.`);
          const parts: Buffer[] = [];
          let size = 0;
          stream.on('data', (part: Buffer) => {
            size += part.length;
            together += part.length;
            if (size > ZIP_LIMITS.bytesEach || together > ZIP_LIMITS.bytesTogether) {
              stream.destroy();
              refuse(tooLarge(name));
            } else parts.push(part);
          });
          stream.on('error', () => refuse(`${shown(name)} in the zip is broken.`));
          stream.on('end', () => {
            files.set(name, Buffer.concat(parts));
            zip.readEntry();
          });
        });
      });
      zip.readEntry();
    });
  });
}

function tooLarge(name: string): string {
  return `${shown(name)} is far larger than any roster once it is unpacked. Nothing of the zip was read.`;
}

/** A file's name as far as it can be shown. */
function shown(name: string): string {
  const plain = name.replace(/\p{Cc}/gu, '?');
  return plain.length > 60 ? `${plain.slice(0, 60)}…` : plain;
}
