var transforms = need("vega-dataflow").transforms;
["vega-transforms", "vega-view-transforms", "vega-encode"].forEach(function (name) {
  Object.assign(transforms, need(name));
});
// Drawn once as vector graphics, so that paper gets the same as the screen.
document.querySelectorAll("script[data-plot]").forEach(function (holder) {
  var view = new (need("vega-view").View)(need("vega-parser").parse(JSON.parse(holder.textContent)),
                                          { renderer: "none" });
  view.toSVG().then(function (svg) {
    var place = document.createElement("div");
    place.innerHTML = svg;
    holder.parentNode.insertBefore(place, holder);
  });
});
})();
