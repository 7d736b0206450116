(function () {
"use strict";
// The plotting library comes in modules that ask for each other; this hands them out.
var parts = {};
function need(name) { return parts[name.replace(/s$/, "")]; }
function part(name, run) {
  var module = { exports: {} };
  run(module.exports, module, need);
  parts[name.replace(/s$/, "")] = module.exports;
}
