/** A device in one row: what it is, how much of it is known, and how it stands. */
import type { Device } from "../../formats/bench.ts";
import type { SavedDevice } from "../../store/devices.ts";
import type { Words } from "../../text/words.ts";
import { Drawing, Sign } from "../../ui/drawing.tsx";
import { deviceName } from "../../ui/naming.ts";
import type { SignPose } from "../../ui/sign.ts";
import { useWords } from "../../ui/words-context.tsx";
import { useLoaded } from "../loaded.ts";
import { useTools } from "../tools.tsx";
import { portraitOf } from "./portrait.ts";
import type { Standing, StandingWord } from "./standing.ts";

/** Height of a row in CSS pixels. */
export const DEVICE_ROW_PX = 76;

/** How our sign stands for each standing. */
export const poseOfStanding: Readonly<Record<StandingWord, SignPose>> = {
  pinned: "aligned",
  open: "apart",
  contradicted: "crossed",
  unknown: "apart",
};

interface DeviceRowProps {
  saved: SavedDevice;
  standing: Standing | undefined;
  inHand: boolean;
}

/** The content of one row. */
export function DeviceRow({ saved, standing, inHand }: DeviceRowProps) {
  const words = useWords();
  const { device } = saved;
  const types = standing?.partTypes.length ? standing.partTypes : device.fitted.map(({ type }) => type);
  const under = [device.modelNumbers.join(", "), device.job && words.say("bench_job_of", { job: device.job })];
  return (
    <>
      <RowPicture saved={saved} types={types} />
      <span class="wb-row-text">
        <span class="wb-row-name">
          <b dir="auto">{deviceName(device, words)}</b>
          {inHand && <span class="wb-tag">{words.say("workbench_in_hand")}</span>}
        </span>
        <span class="wb-row-under">{under.filter(Boolean).join(" · ")}</span>
        {standing && (
          <span class="wb-standing" data-standing={standing.word}>
            <Sign pose={poseOfStanding[standing.word]} size={14} />
            <span>{standingText(standing, device, words)}</span>
          </span>
        )}
      </span>
    </>
  );
}

/** The photo, if there is one, else a drawing of the kind. */
function RowPicture({ saved: { device, changedAt }, types }: { saved: SavedDevice; types: readonly string[] }) {
  const { store } = useTools();
  const picture = useLoaded(() => store.devices.picture(device.id), [device.id, changedAt]);
  if (picture.value === undefined) return <Drawing tree={portraitOf(types, 44)} />;
  return <img class="wb-row-picture" src={picture.value} alt="" />;
}

/** How a device stands, in a few words: `Pinned: late board`. */
function standingText(standing: Standing, device: Pick<Device, "modelNumbers">, words: Words): string {
  const { word, possible } = standing;
  if (word === "unknown") {
    return words.say(device.modelNumbers.length === 0 ? "bench_standing_no_model" : "bench_standing_unknown");
  }
  const revisions = possible.length > 0 ? possible : [words.say("bench_no_revision")];
  const key = {
    pinned: "bench_standing_pinned",
    open: "bench_standing_open",
    contradicted: "bench_standing_contradicted",
  } as const;
  return words.say(key[word], { revisions: eitherOf(revisions, words) });
}

/** `early board or late board`, as the language says it. */
export function eitherOf(names: readonly string[], words: Words): string {
  return new Intl.ListFormat(words.formatting, { type: "disjunction" }).format(names);
}
