/**
 * The second script of the overlay: reads the page, has its listings judged, draws.
 *
 *   session   pack -> page reader -> verdicts                  adviser   asks the background to judge and explain
 *   surface   what is drawn: marks, strip, opened mark         placer    keeps marks on their cards
 */
import { sessionFor } from "./session.ts";
import { offerSecondStage } from "./stage.ts";

offerSecondStage({ sessionFor });
