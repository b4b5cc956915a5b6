/** Devices of the bench as observations to learn from, and a draft without the families that were left out. Pure. */
import type { Device } from "../../formats/bench.ts";
import type { Catalog } from "../../formats/catalog.ts";
import type { Observation } from "../../formats/observation.ts";

/**
 * What a bench has seen. Parts that were only assumed tell nothing; a build date counts where it is one text (a day,
 * a week, a month), for a wider span says too little.
 */
export function observationsOf(devices: readonly Device[]): Observation[] {
  return devices.flatMap((device) => {
    const [model] = device.modelNumbers;
    const battery = batteryOf(device);
    if (model === undefined || (battery === null && device.boardNumber === undefined)) return [];
    return [
      {
        model,
        ...(device.boardNumber === undefined ? {} : { board: device.boardNumber }),
        ...(typeof device.buildDate === "string" ? { built: device.buildDate } : {}),
        ...(battery === null ? {} : { battery }),
      },
    ];
  });
}

function batteryOf({ fitted }: Device): NonNullable<Observation["battery"]> | null {
  const part = fitted.find(({ type, source }) => type === "battery" && source !== "assumed");
  if (part === undefined) return null;
  const volts = part.quantities?.["nominalVoltage_V"];
  const energy = part.quantities?.["energy_Wh"];
  return {
    ...(part.numbers[0] === undefined ? {} : { name: part.numbers[0] }),
    ...(typeof volts === "number" ? { designVoltage_mV: Math.round(volts * 1000) } : {}),
    ...(typeof energy === "number" ? { designCapacity_mWh: Math.round(energy * 1000) } : {}),
  };
}

/** The catalog without some families and without parts that no other family takes. */
export function withoutFamilies(catalog: Catalog, left: ReadonlySet<string>): Catalog {
  const families = catalog.families.filter(({ id }) => !left.has(id));
  const taken = new Set(families.flatMap(({ revisions }) => revisions.flatMap(({ parts }) => parts)));
  return { ...catalog, families, parts: catalog.parts.filter(({ id }) => taken.has(id)) };
}
