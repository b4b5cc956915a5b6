/** Builds SMBIOS tables for tests, structure by structure, from the layout of DMTF DSP0134. */

/** A structure: type, formatted bytes after the four-byte header, strings. */
export interface Built {
  readonly type: number;
  readonly body: readonly number[];
  readonly strings?: readonly string[];
}

const word = (value: number): number[] => [value & 0xff, (value >> 8) & 0xff];
const dword = (value: number): number[] => [...word(value & 0xffff), ...word(Math.floor(value / 65536))];

/** A bare table with its end structure. */
export function buildTable(structures: readonly Built[]): Uint8Array {
  const bytes: number[] = [];
  for (const [handle, { type, body, strings = [] }] of [...structures, { type: 127, body: [] }].entries()) {
    bytes.push(type, body.length + 4, ...word(handle), ...body);
    for (const text of strings) bytes.push(...[...text].map((letter) => letter.charCodeAt(0)), 0);
    bytes.push(0);
    if (strings.length === 0) bytes.push(0);
  }
  return Uint8Array.from(bytes);
}

/** A dump file: 32-bit entry point, the table behind it at byte 32. */
export function withEntryPoint32(table: Uint8Array, count: number): Uint8Array {
  const entry = new Array<number>(32).fill(0);
  put(entry, 0, [...letters("_SM_"), 0, 0x1f, 3, 2, ...word(256), 0]);
  put(entry, 0x10, [...letters("_DMI_"), 0, ...word(table.length), ...dword(32), ...word(count), 0x32]);
  entry[0x15] = checksum(entry.slice(0x10, 0x1f));
  entry[0x04] = checksum(entry.slice(0, 0x1f));
  return Uint8Array.from([...entry, ...table]);
}

/** A dump file: 64-bit entry point, the table behind it at byte 32. */
export function withEntryPoint64(table: Uint8Array): Uint8Array {
  const entry = new Array<number>(32).fill(0);
  put(entry, 0, [...letters("_SM3_"), 0, 0x18, 3, 4, 0, 1, 0, ...dword(table.length), ...dword(32), 0, 0, 0, 0]);
  entry[0x05] = checksum(entry.slice(0, 0x18));
  return Uint8Array.from([...entry, ...table]);
}

/** The eight-byte head that one operating system puts before the table. */
export function withHead(table: Uint8Array): Uint8Array {
  return Uint8Array.from([0, 3, 2, 0, ...dword(table.length), ...table]);
}

function put(into: number[], at: number, bytes: readonly number[]): void {
  for (const [i, byte] of bytes.entries()) into[at + i] = byte;
}

function letters(text: string): number[] {
  return [...text].map((letter) => letter.charCodeAt(0));
}

function checksum(bytes: readonly number[]): number {
  return (256 - (bytes.reduce((sum, byte) => sum + byte, 0) % 256)) % 256;
}

/** An invented notebook: firmware, system, board, two memory slots (one empty), battery. */
export const notebook: readonly Built[] = [
  {
    type: 0,
    body: [1, 2, ...word(0xe000), 3, 0xff, ...dword(0), ...dword(0), 0, 0, 1, 2, 0xff, 0xff],
    strings: ["Quillon", "Q13 1.08", "07/28/2020"],
  },
  {
    type: 1,
    body: [1, 2, 3, 4, ...new Array<number>(16).fill(0x21), 6, 5, 6],
    strings: ["Quillon", "Sedge 13", "Default string", "0123456789", "QS13-44", "Sedge"],
  },
  {
    type: 2,
    body: [1, 2, 3, 4, 5, 9, 6, ...word(3), 10, 0],
    strings: ["Quillon", "QM7-100B", "1.2", "000000", "To be filled by O.E.M.", "Base Board Chassis Location"],
  },
  {
    type: 17,
    body: memoryBody({ size: 8192, form: 0x0d, type: 0x1a, speed: 2667, volts: 1200 }),
    strings: ["DIMM 0", "BANK 0", "Quillon", "00000000", "Asset", "QR-8G4"],
  },
  {
    type: 17,
    body: memoryBody({ size: 0, form: 0x0d, type: 2, speed: 0, volts: 0 }),
    strings: ["DIMM 1", "BANK 1", "Not Specified", "Not Specified", "Not Specified", "Not Specified"],
  },
  {
    type: 22,
    body: batteryBody({ capacity: 4560, volts: 11400, packedDate: 0x5715, multiplier: 10 }),
    strings: ["Bay", "Quillon", "QB-1140", "1.0", "LION"],
  },
];

/** Formatted area of structure type 17 up to the extended speeds (length 54h). */
export function memoryBody(given: {
  size: number;
  form: number;
  type: number;
  speed: number;
  volts: number;
  extendedSize?: number;
}): number[] {
  const { size, form, type, speed, volts, extendedSize = 0 } = given;
  return [
    ...word(0),
    ...word(0xfffe),
    ...word(64),
    ...word(64),
    ...word(size),
    form,
    0,
    1,
    2,
    type,
    ...word(0),
    ...word(speed),
    3,
    4,
    5,
    6,
    1,
    ...dword(extendedSize),
    ...word(speed),
    ...word(0),
    ...word(0),
    ...word(volts),
    ...new Array<number>(0x54 - 0x28).fill(0),
  ];
}

/** Formatted area of structure type 22 with the smart-battery fields (length 1Ah). */
export function batteryBody(given: {
  capacity: number;
  volts: number;
  packedDate: number;
  multiplier: number;
}): number[] {
  const { capacity, volts, packedDate, multiplier } = given;
  return [
    1,
    2,
    0,
    0,
    3,
    2,
    ...word(capacity),
    ...word(volts),
    4,
    0xff,
    ...word(0x1234),
    ...word(packedDate),
    5,
    multiplier,
    ...dword(0),
  ];
}
