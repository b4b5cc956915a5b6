/** True in builds for tests and the demo: loopback pages are switched on, shadow roots are open. Set by the build. */
declare const __FALSEFIT_TEST__: boolean;
/** True in the build that the demo opens: the example is on the bench from the start. Set by the build. */
declare const __FALSEFIT_DEMO__: boolean;
