/** True in builds for tests and the demo: loopback pages are switched on, shadow roots are open. Set by the build. */
declare const __FALSEFIT_TEST__: boolean;
