/** One device: what it is, which revision, what is known and from where, what is still open. */
import type { Device } from "../../formats/bench.ts";
import type { SavedDevice } from "../../store/devices.ts";
import { Button } from "../../ui/button.tsx";
import { Drawing } from "../../ui/drawing.tsx";
import { deviceName } from "../../ui/naming.ts";
import { Empty, Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { type Loaded, useLate, useLoaded } from "../loaded.ts";
import { hrefOf } from "../route.ts";
import { useTools } from "../tools.tsx";
import type { Study } from "../work/device-services.ts";
import { useBench } from "./bench-state.tsx";
import { useDeviceActions } from "./device-actions.ts";
import { KnownSection } from "./known-section.tsx";
import { PartsSection } from "./parts-section.tsx";
import { portraitOf } from "./portrait.ts";
import { QuestionSection } from "./question-section.tsx";
import { ReadoutSection } from "./readout-section.tsx";
import { SettledSection } from "./settled-section.tsx";
import { StandingSection } from "./standing-section.tsx";

/** The page of the device with this id. */
export function DevicePage({ id }: { id: string }) {
  const words = useWords();
  const { devices, error, reload } = useBench();
  const saved = devices?.find(({ device }) => device.id === id);
  if (error && devices === undefined) {
    return (
      <Failure
        level={2}
        title={words.say("bench_unreadable")}
        faults={[{ field: "", message: error.message }]}
        onRetry={reload}
      />
    );
  }
  if (devices === undefined) return <Loading />;
  if (saved === undefined) return <Gone />;
  return <DeviceSheet saved={saved} />;
}

/** Not on the bench, or not yet. */
function Gone() {
  const words = useWords();
  if (!useLate()) return <Loading />;
  return (
    <div class="wb-page">
      <Empty title={words.say("bench_gone")}>
        <p>
          <a href={hrefOf("bench")}>{words.say("bench_back")}</a>
        </p>
      </Empty>
    </div>
  );
}

function DeviceSheet({ saved }: { saved: SavedDevice }) {
  const words = useWords();
  const { work } = useTools();
  const { catalogsSeen } = useBench();
  const { device, changedAt } = saved;
  const study = useLoaded(
    (signal) => work.study({ device, language: words.language }, { signal }),
    [changedAt, device.id, catalogsSeen, words.language],
  );
  return (
    <article class="wb-page" aria-labelledby="device-heading">
      <DeviceHead device={device} study={study} />
      {study.error && (
        <Failure
          level={2}
          title={words.say("bench_study_failed")}
          faults={[{ field: "", message: study.error.message }]}
          onRetry={study.reload}
        />
      )}
      {study.value === undefined && study.loading && <Loading />}
      {study.value && <StandingSection device={device} study={study.value} />}
      {study.value && <QuestionSection device={device} study={study.value} />}
      <KnownSection device={device} />
      {study.value && <PartsSection device={device} study={study.value} />}
      <ReadoutSection device={device} />
      <SettledSection device={device} />
    </article>
  );
}

function DeviceHead({ device, study }: { device: Device; study: Loaded<Study> }) {
  const words = useWords();
  const { inHand } = useBench();
  const actions = useDeviceActions();
  const { family = null, maker = null, partTypes = [] } = study.value?.standing ?? {};
  const named = [maker, family].filter((part) => part !== null).join(" ");
  const types = partTypes.length > 0 ? partTypes : device.fitted.map(({ type }) => type);
  const under = [named, device.modelNumbers.join(", "), device.job && words.say("bench_job_of", { job: device.job })];
  const held = inHand === device.id;
  return (
    <header class="wb-device-head">
      <Picture device={device} partTypes={types} />
      <div class="wb-device-names">
        <h1 id="device-heading" tabIndex={-1} data-start="" dir="auto">
          {deviceName(device, words)}
        </h1>
        <p class="wb-soft">{under.filter(Boolean).join(" · ")}</p>
        {device.archived && <p class="wb-tag">{words.say("bench_is_archived")}</p>}
      </div>
      <div class="ff-actions wb-device-actions">
        {held ? (
          <span class="wb-held">{words.say("bench_is_in_hand")}</span>
        ) : (
          <Button kind="strong" onPress={() => actions.takeInHand(device)}>
            {words.say("bench_take_in_hand")}
          </Button>
        )}
        <a class="ff-button ff-plain" href={hrefOf("bench", { id: device.id }, { act: "edit" })}>
          {words.say("bench_edit")}
        </a>
        <Button kind="quiet" onPress={() => actions.duplicate(device)}>
          {words.say("bench_duplicate")}
        </Button>
        {device.archived ? (
          <Button kind="quiet" onPress={() => actions.fetchBack(device)}>
            {words.say("bench_fetch_back")}
          </Button>
        ) : (
          <Button kind="quiet" onPress={() => actions.archive(device)}>
            {words.say("bench_archive")}
          </Button>
        )}
        <Button kind="quiet" onPress={() => actions.remove(device)}>
          {words.say("bench_delete")}
        </Button>
      </div>
    </header>
  );
}

/** The device's photo, or a drawing of its kind. */
function Picture({ device, partTypes }: { device: Device; partTypes: readonly string[] }) {
  const words = useWords();
  const { store } = useTools();
  const { catalogsSeen, devices } = useBench();
  const changedAt = devices?.find((saved) => saved.device.id === device.id)?.changedAt;
  const picture = useLoaded(() => store.devices.picture(device.id), [device.id, changedAt, catalogsSeen]);
  if (picture.value === undefined) {
    return (
      <span class="wb-picture">
        <Drawing tree={portraitOf(partTypes, 84)} />
      </span>
    );
  }
  const name = deviceName(device, words);
  return <img class="wb-picture" src={picture.value} alt={words.say("bench_picture_of", { device: name })} />;
}
