#pragma once

#include "air/air.h"
#include "blockage/blockage.h"
#include "casefile/fields.h"
#include "rig/parts.h"

/// The numbers of the site, the mount, the start and the running engine (see fields.h).
namespace windgap::casefile {

template <class V>
void visit_site(V& v, air::Site& site) {
  v("altitude", site.altitude, Allowed{D::length, -500, 6000, "m"});
  v("pressure", site.pressure, Allowed{D::pressure, 400, 1100, "hPa"});
  v("temperature", site.temperature, Allowed{D::temperature, -40, 60, "degC"});
  v("relative_humidity", site.relative_humidity, Allowed{D::ratio, 0, 100, "%"});
  v("wind", site.wind, Allowed{D::speed, 0, 15, "m/s"});
}

template <class V>
void visit_mounting(V& v, rig::Mounting& mounting) {
  v("offset", mounting.offset, Allowed{D::length, 0, 500, "mm"});
  v("tilt", mounting.tilt, Allowed{D::angle, 0, 45, "deg"});
}

template <class V>
void visit_struts(V& v, blockage::Struts& struts) {
  v("width", struts.width, Allowed{D::length, 0.1, 200, "mm"});
  v("length", struts.length, Allowed{D::length, 1, 500, "mm"});
}

template <class V>
void visit_start(V& v, rig::StartNeed& start) {
  v("airflow", start.airflow, Allowed{D::mass_flow, 0.1, 5000, "g/s"});
  v("rotor_speed", start.rotor_speed, Allowed{D::angular_speed, 500, 200000, "rpm"});
}

template <class V>
void visit_running(V& v, rig::Running& running) {
  v("airflow", running.airflow, Allowed{D::mass_flow, 1, 20000, "g/s"});
  v("nozzle_pressure_ratio", running.nozzle_pressure_ratio, Allowed{D::number, 1.01, 8, ""});
}

}  // namespace windgap::casefile
