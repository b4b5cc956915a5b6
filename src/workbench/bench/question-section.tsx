/** The cheapest look that would tell the remaining revisions apart, and the answers one could read there. */
import { decidesKey, effortKey, type PossibleAnswer, type Question } from "../../catalog/question.ts";
import type { Device } from "../../formats/bench.ts";
import { Button } from "../../ui/button.tsx";
import { Drawing } from "../../ui/drawing.tsx";
import { deviceName } from "../../ui/naming.ts";
import { useWords } from "../../ui/words-context.tsx";
import { hrefOf } from "../route.ts";
import type { Study } from "../work/device-services.ts";
import { answeredDevice } from "./answer.ts";
import { useDeviceActions } from "./device-actions.ts";
import { eitherOf } from "./device-row.tsx";
import { effortOf } from "./effort.ts";

/** The section; nothing where the revision is pinned or nothing tells the rest apart. */
export function QuestionSection({ device, study }: { device: Device; study: Study }) {
  const words = useWords();
  const [first, ...others] = study.questions;
  if (first === undefined) return null;
  return (
    <section class="wb-section wb-question" aria-labelledby="question-heading">
      <h2 id="question-heading">{words.say("bench_next_look")}</h2>
      <Ask device={device} question={first} />
      {others.length > 0 && (
        <details class="wb-more">
          <summary>{words.say("bench_other_looks", { count: others.length })}</summary>
          {others.map((question) => (
            <Ask key={`${question.check} ${question.partType}`} device={device} question={question} />
          ))}
        </details>
      )}
    </section>
  );
}

function Ask({ device, question }: { device: Device; question: Question }) {
  const words = useWords();
  const { ask, effort, decides, answers } = question;
  return (
    <div class="wb-ask">
      <Drawing tree={effortOf(effort, 32)} />
      <div>
        <p class="wb-ask-text">{words.say(ask.key, ask.values)}</p>
        <p class="wb-soft">
          {words.say("bench_look_costs", {
            effort: words.say(effortKey(effort)),
            decides: words.say(decidesKey(decides)),
          })}
        </p>
        <ul class="wb-answers" aria-label={words.say("bench_answers")}>
          {answers.map((answer) => (
            <li key={answer.value}>
              <Answer device={device} question={question} answer={answer} />
            </li>
          ))}
        </ul>
        {effort === "command" && (
          <p>
            <Button kind="quiet" onPress={goToReadout}>
              {words.say("bench_to_readout")}
            </Button>
          </p>
        )}
        {question.check === "build-date" && (
          <p>
            <a href={hrefOf("bench", { id: device.id }, { act: "edit" })}>{words.say("bench_enter_date")}</a>
          </p>
        )}
      </div>
    </div>
  );
}

/** The address names the device; within its page one moves without it. */
function goToReadout(): void {
  const heading = document.getElementById("readout-heading");
  heading?.scrollIntoView({ block: "start" });
  heading?.focus();
}

interface AnswerProps {
  device: Device;
  question: Question;
  answer: PossibleAnswer;
}

/** What one could read, and what it would mean; where that says all, one click enters it. */
function Answer({ device, question, answer }: AnswerProps) {
  const words = useWords();
  const actions = useDeviceActions();
  const after = answeredDevice(device, question, answer);
  const revisions = eitherOf(answer.names, words);
  const content = (
    <>
      <span class="ff-number">{answer.value}</span>
      <span class="wb-soft">{revisions}</span>
    </>
  );
  if (after === null) return <span class="wb-answer-line">{content}</span>;
  const message = words.say("bench_answered", { value: answer.value, device: deviceName(device, words) });
  return <Button onPress={() => actions.change(device, after, message)}>{content}</Button>;
}
