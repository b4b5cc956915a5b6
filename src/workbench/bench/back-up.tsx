/** The whole bench as one file. */
import { useState } from "preact/hooks";
import { BENCH_FORMAT, type Bench, type Device } from "../../formats/bench.ts";
import type { Store } from "../../store/open.ts";
import { Button } from "../../ui/button.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { dateToday, useTools } from "../tools.tsx";

/** All devices with their pictures and what was taught of pages, as a bench file holds them. */
export async function benchOf(store: Store): Promise<Bench> {
  const devices: Device[] = [];
  for (const { device } of await store.devices.list()) {
    const picture = await store.devices.picture(device.id);
    devices.push(picture === undefined ? device : { ...device, picture });
  }
  const pageShapes = await store.shapes.list();
  return { format: BENCH_FORMAT, devices, ...(pageShapes.length === 0 ? {} : { pageShapes }) };
}

/** Hands the bench over as a file. */
export function BackUpButton() {
  const words = useWords();
  const { store, download, now } = useTools();
  const [busy, setBusy] = useState(false);
  const backUp = async () => {
    setBusy(true);
    try {
      download(`falsefit-${dateToday(now())}.bench.json`, `${JSON.stringify(await benchOf(store), null, 2)}\n`);
    } finally {
      setBusy(false);
    }
  };
  return (
    <Button busy={busy} onPress={backUp}>
      {words.say("bench_back_up")}
    </Button>
  );
}
