"""The bench of models/*.md once more, in NumPy: from a case's resolved numbers and the coefficients to
the airflow that reaches the inducer. Numbers in the comments are the equations of those pages.

Every quantity is an array over benches or stand-offs: one solve is an array of one. `Numerics` says
how finely integrals are taken and tables made; with its defaults the recipes are those that the pages
and headers state, so that answers agree to rounding. `FINE` puts integrals, roots and laws in place of
tables and short series, and so shows what those cost in accuracy.
"""
from dataclasses import dataclass
from types import SimpleNamespace

import numpy as np
from scipy.interpolate import CubicHermiteSpline, PchipInterpolator
from scipy.special import jn_zeros

PI = np.pi
SQRT2 = np.sqrt(2.0)
FIRST_ZERO_OF_J0 = jn_zeros(0, 1)[0]
COLD = 3.5  # cp/R of cold air
SMALL = 2.0**-20  # share of a temperature that losses may leave


@dataclass(frozen=True)
class Numerics:
    response_points: int = 17  # of the fan's answer to back-pressure
    drag_points: int = 33  # of the bearing drag
    panel_split: int = 1  # each panel across the jet in so many
    directions: tuple = ((0.15, 3), (0.3, 4), (np.inf, 12))  # up to a shift, so many
    exact_throats: bool = False  # the flow function's root in place of its polynomial
    wheel_steps: int = 2  # Newton steps on the wheel's exit
    exact_density: bool = False  # of the settled air, in place of two terms


AS_STATED = Numerics()
FINE = Numerics(
    response_points=257,
    drag_points=1025,
    panel_split=12,
    directions=((np.inf, 96),),
    exact_throats=True,
    wheel_steps=12,
    exact_density=True,
)
GREATEST_RATIO = 60.0  # back-pressure ratio at the end of the response


def at_table(table, x, factor=1.0):
    """Monotone cubic with the chords' slopes at its ends (straight lines below four points), level
    beyond them."""
    xs, ys = np.asarray(table["x"]), np.asarray(table["y"])
    x = np.clip(x, xs[0], xs[-1])
    if len(xs) < 4:
        return factor * np.interp(x, xs, ys)
    slopes = PchipInterpolator(xs, ys).derivative()(xs)
    chords = np.diff(ys) / np.diff(xs)
    slopes[0], slopes[-1] = chords[0], chords[-1]
    return factor * CubicHermiteSpline(xs, ys, slopes)(x)


def hermite(share, left, right, left_slope, right_slope):
    """Cubic over a unit step."""
    rest = 1.0 - share
    return (
        rest**2 * ((1.0 + 2.0 * share) * left + share * left_slope)
        + share**2 * ((1.0 + 2.0 * rest) * right - rest * right_slope)
    )


def pick(table, index):
    """One column's entry each: table[index[i], i]."""
    return np.take_along_axis(table, index[None, :], axis=0)[0]


# Room: models/air.md ---------------------------------------------------------------------------


def viscosity(air, temperature):
    return air.viscosity_scale * temperature**1.5 / (temperature + air.viscosity_temperature)  # 5


def room(site, air):
    altitude = site["altitude"] or 0.0
    standard_temperature = air.sea_level_temperature - air.lapse_rate * altitude  # 1
    exponent = air.gravity / (air.gas_constant * air.lapse_rate)
    standard_pressure = air.sea_level_pressure * (
        standard_temperature / air.sea_level_temperature
    ) ** exponent  # 2
    pressure = standard_pressure if site["pressure"] is None else site["pressure"]
    temperature = standard_temperature if site["temperature"] is None else site["temperature"]
    saturation = air.saturation_pressure * np.exp(
        air.saturation_slope
        * (temperature - air.saturation_temperature)
        / (temperature - air.saturation_offset)
    )
    vapour = site["relative_humidity"] * saturation  # 3
    density = (pressure - vapour) / (air.gas_constant * temperature) + vapour / (
        air.vapour_gas_constant * temperature
    )  # 4
    return SimpleNamespace(
        pressure=pressure,
        temperature=temperature,
        density=density,
        viscosity=viscosity(air, temperature),
        wind=site["wind"],
    )


# Drive and fan: models/drive.md, models/fan.md ---------------------------------------------------


def prepare_drive(drive, motor, c):
    pack = drive["pack"]
    if drive["controller"]["current_limit"] is not None:
        raise NotImplementedError("a controller that limits the current")
    table = "open_circuit_" + pack["chemistry"]
    cell = at_table(getattr(c, table), pack["state_of_charge"], getattr(c, table + "_factor"))
    return SimpleNamespace(
        open_circuit=pack["cells"] * cell,
        pack_resistance=pack["cells"] * pack["cell_resistance"] + drive["leads"]["resistance"],
        controller_resistance=drive["controller"]["resistance"],
        switching_loss=c.switching_loss,
        motor_resistance=motor["resistance"],
        speed_constant=motor["speed_constant"],
        no_load_current=motor["no_load_current"],
    )


def shaft_speed(drive, load, throttle):
    share = throttle + drive.switching_loss * (1.0 - throttle)  # 3
    resistance = (
        drive.motor_resistance
        + drive.controller_resistance
        + throttle * share * drive.pack_resistance
    )
    excess = throttle * drive.open_circuit - drive.no_load_current * resistance
    linear = 1.0 / drive.speed_constant
    square = drive.speed_constant * load * resistance
    return 2.0 * excess / (linear + np.sqrt(linear**2 + 4.0 * square * excess))  # 5


def sound_pressure(curve, flow):
    departure = 1.0 - flow
    work = 1.0 + curve.slope * departure
    efficiency = 1.0 - curve.curvature * departure**2
    return work * efficiency, -curve.slope * efficiency + 2.0 * curve.curvature * departure * work


def sound_torque(curve, flow):
    return (
        flow * (1.0 + curve.slope * (1.0 - flow)),
        1.0 + curve.slope * (1.0 - 2.0 * flow),
    )


def with_stall(law, curve, flow):
    value, slope = law(curve, flow)
    stall = curve.stall
    at_stall, stall_slope = law(curve, stall)
    low = flow < stall
    level = at_stall + stall_slope * (flow**2 - stall**2) / (2.0 * stall)  # 9
    return np.where(low, level, value), np.where(low, stall_slope * flow / stall, slope)


def stall_flow(curve, least):
    """Where the curve stops rising towards lower flow, if that is above the given one."""
    low = np.broadcast_to(least, np.shape(curve.slope)).astype(float)
    high = np.ones_like(low)
    rises = sound_pressure(curve, low)[1] > 0.0
    first = low.copy()
    for _ in range(60):
        middle = 0.5 * (low + high)
        up = sound_pressure(curve, middle)[1] > 0.0
        low, high = np.where(up, middle, low), np.where(up, high, middle)
    return np.where(rises, high, first)


def balance_fan(curve, resistance):
    """Flow at which the pressure is `resistance` times the squared flow (10)."""
    flow = np.ones(np.broadcast_shapes(np.shape(curve.slope), np.shape(resistance)))
    low, high = np.zeros_like(flow), np.ones_like(flow)
    for _ in range(60):
        pressure, slope = with_stall(sound_pressure, curve, flow)
        excess = pressure - resistance * flow**2
        low, high = np.where(excess > 0.0, flow, low), np.where(excess > 0.0, high, flow)
        step = flow - excess / (slope - 2.0 * resistance * flow)
        step = np.where((step > low) & (step < high), step, 0.5 * (low + high))
        change = np.where(excess == 0.0, 0.0, step - flow)
        flow = flow + change
        if np.all(np.abs(change) < 1e-14):
            break
    return flow


def prepare_fan(fan, drive, ambient, c):
    sheet = fan  # the datasheet's point stands among the sizes
    for group in (fan["measured"], fan["curve"]):
        if any(value is not None for value in group.values()):
            raise NotImplementedError("a measured fan")
    if fan["nozzle_diameter"] is not None or sheet["speed"] is not None:
        raise NotImplementedError("a nozzle or a measured speed")
    blunt = fan["hub_end"] == "blunt"
    share = 1.0 if blunt else c.cone_hub_area
    area = PI / 4.0 * (fan["exit_diameter"] ** 2 - share * fan["hub_diameter"] ** 2)  # 1
    sheet_density = c.standard_density if sheet["density"] is None else sheet["density"]
    thrust = c.datasheet_thrust * sheet["thrust"]
    velocity = np.sqrt(thrust / (sheet_density * area))  # 2
    current = sheet["current"]
    if current is None:
        current = sheet["electrical_power"] / sheet["voltage"]
    back = sheet["voltage"] - current * (drive.motor_resistance + drive.controller_resistance)
    speed = drive.speed_constant * back
    load = (current - drive.no_load_current) / drive.speed_constant / speed**2  # 3
    per_speed = velocity / speed
    square_radius = (fan["bore_diameter"] ** 2 + fan["hub_diameter"] ** 2) / 8.0
    work = load / (sheet_density * area * per_speed * square_radius)  # 6
    work = np.clip(work, c.least_work, c.most_work)
    curve = SimpleNamespace(slope=c.euler_slope * (1.0 - work) / work, curvature=c.efficiency_curvature)
    curve.stall = stall_flow(curve, c.stall_flow)
    vanes = {"yes": c.vane_efficiency, "no": 0.0, "unknown": c.vane_efficiency_unknown}
    return SimpleNamespace(
        area=area,
        per_speed=per_speed,
        load=load * ambient.density / sheet_density,
        curve=curve,
        swirl_left=1.0 - vanes[fan["vanes"]],
        rim_radius=fan["exit_diameter"] / 2.0,
        hub_radius=fan["hub_diameter"] / 2.0,
        blunt=blunt,
        straightened=fan["vanes"] == "yes",
    )


def operate(fan, drive, throttle, ambient, ratio):
    """Exit velocity and swirl number at a back-pressure ratio."""
    flow = balance_fan(fan.curve, 1.0 + ratio)
    load = fan.load * with_stall(sound_torque, fan.curve, flow)[0]
    speed = shaft_speed(drive, load, throttle)
    velocity = flow * fan.per_speed * speed
    momentum = ambient.density * fan.area * velocity**2
    swirl = load * speed**2 * fan.swirl_left / (momentum * fan.rim_radius)  # 13
    return velocity, swirl


class Response:
    """Exit velocity over the free one against ln(1 + e) (1 of models/rig.md)."""

    def __init__(self, fan, drive, throttle, ambient, free_velocity, numerics):
        self.last = numerics.response_points - 1
        self.per_log = self.last / np.log1p(GREATEST_RATIO)
        ratios = np.expm1(np.arange(self.last + 1) / self.per_log)
        velocity, _ = operate(fan, drive, throttle, ambient, ratios[:, None])
        self.velocity = velocity / free_velocity
        self.slope = np.gradient(self.velocity, axis=0)

    def at(self, ratio):
        place = np.clip(self.per_log * np.log1p(np.maximum(ratio, 0.0)), 0.0, self.last)
        i = np.minimum(place.astype(int), self.last - 1)
        return hermite(
            place - i,
            pick(self.velocity, i),
            pick(self.velocity, i + 1),
            pick(self.slope, i),
            pick(self.slope, i + 1),
        )


# Jet: models/jet.md ------------------------------------------------------------------------------


def hub_wake(blunt, diameters, c):
    """Width over the hub's radius and depth of the wake, so many hub diameters behind the exit."""
    beyond = diameters - (c.dead_air_length if blunt else 0.0)
    distance = (beyond + np.sqrt(beyond**2 + 4.0 * c.dead_air_smear**2)) / 2.0
    at_rest = np.sqrt(c.wake_drag_blunt if blunt else c.wake_drag_cone)
    half = 6.0 * c.wake_spread_rate * distance / at_rest - 1.0
    e = np.where(
        half < 1.0,
        2.0 * np.cos(np.arccos(np.clip(half, -1.0, 1.0)) / 3.0),
        2.0 * np.cosh(np.arccosh(np.maximum(half, 1.0)) / 3.0),
    )
    return at_rest * (e + 1.0 / e) / 2.0, 2.0 / (1.0 + e**2)  # 7, 8


def section(jet, share, distance, c):
    """State of the jet at a distance [m]; lengths in stream radii, speeds in exit velocities."""
    core = c.core_length_nozzle * (c.core_length_propeller / c.core_length_nozzle) ** share  # 3
    rate = c.spread_rate_nozzle + share * (c.spread_rate_propeller - c.spread_rate_nozzle)
    x = distance / jet.radius
    stripping = 1.0 + c.crosswind_stripping * jet.wind_ratio
    end = 2.0 * core / stripping
    rate = rate * stripping
    start = np.maximum(0.0, SQRT2 - rate * end)
    xi = np.minimum(1.0, x / end)
    grown = xi * (1.0 - c.early_growth_deficit * (1.0 - xi) ** 2)
    b = np.where(
        x >= end, SQRT2 + rate * (x - end), np.maximum(start + (SQRT2 - start) * grown, 1e-3)
    )  # 1
    hub = jet.hub_radius / jet.radius
    width, depth = hub_wake(jet.blunt, x / (2.0 * hub), c)
    missing = (hub * width) ** 2 * (2.0 - depth / 2.0) * depth
    momentum = np.where(
        b**2 <= 2.0 * (1.0 + missing),
        1.0 + missing,
        1.0 / np.maximum(SMALL, 1.0 - 2.0 * missing / b**2),
    )
    half = b * np.sqrt(PI / 8.0)
    rc = np.maximum(0.0, np.sqrt(half**2 + np.maximum(0.0, momentum - b**2 / 2.0)) - half)  # 2
    peak = np.minimum(1.0, np.sqrt(2.0 * momentum) / b)
    moment = peak**2 * (
        rc**4 / 4.0
        + rc**3 * half
        + 3.0 * rc**2 * b**2 / 4.0
        + 3.0 * rc * np.sqrt(PI / 2.0) * b**3 / 8.0
        + b**4 / 8.0
    )
    flux = np.maximum(0.0, jet.swirl) * (jet.rim_radius / jet.radius) / 2.0
    rotation = 2.0 * flux / (moment + np.sqrt(moment**2 + 4.0 * flux**2 * moment))  # 5
    peak = peak / np.sqrt(1.0 - rotation**2 * moment)
    bend = np.zeros_like(x)
    if jet.windy:
        scale = 2.0 / jet.wind_ratio
        bend = scale * (x / (scale * c.crosswind_penetration)) ** (1.0 / c.crosswind_exponent)  # 9
    return SimpleNamespace(
        b=b, rc=rc, peak=peak, rotation=rotation, wake=hub * width, depth=depth, bend=bend
    )


def profile(s, r):
    """Axial speed with and without the wake (6)."""
    t = np.maximum(0.0, r - s.rc) / s.b
    clean = s.peak * np.exp(-t * t)
    w = r / s.wake
    return clean * np.where(w > 4.0, 1.0, 1.0 - s.depth * np.exp(-w * w)), clean


def estimated_share(jet, straightened, c):
    share = jet.swirl / c.swirl_propeller
    share = share + (0.0 if straightened else c.mixing_without_vanes)
    return np.clip(share + (c.mixing_blunt_hub if jet.blunt else 0.0), 0.0, 1.0)  # 4


def fitted_share(jet, readings, head, c):
    """Least squares over the readings (10), by golden sections."""

    def misfit(share):
        total = 0.0
        for reading in readings:
            s = section(jet, share, reading["at"], c)
            u, _ = profile(s, reading["radius"] / jet.radius)
            total = total + (u**2 - reading["pressure"] / head) ** 2
        return total

    golden = (np.sqrt(5.0) - 1.0) / 2.0
    low, high = np.zeros_like(head), np.ones_like(head)
    left, right = high - golden * (high - low), low + golden * (high - low)
    at_left, at_right = misfit(left), misfit(right)
    for _ in range(44):
        lower = at_left < at_right
        low, high = np.where(lower, low, left), np.where(lower, right, high)
        new = np.where(lower, high - golden * (high - low), low + golden * (high - low))
        at_new = misfit(new)
        left, right = np.where(lower, new, right), np.where(lower, left, new)
        at_left, at_right = np.where(lower, at_new, at_right), np.where(lower, at_left, at_new)
    share = 0.5 * (low + high)
    for end in (np.zeros_like(share), np.ones_like(share)):
        share = np.where(misfit(end) <= misfit(share), end, share)
    return share


# Capture: models/capture.md ----------------------------------------------------------------------

ROOT5 = np.sqrt(5.0)
PLACES = np.array([0.5 - ROOT5 / 10.0, 0.5 + ROOT5 / 10.0, 1.0])  # Gauss-Lobatto, four points
RUNNING = np.array(  # integrals of the cubic through them, from the panel's start
    [
        [11.0 + ROOT5, 25.0 - ROOT5, 25.0 - 13.0 * ROOT5, -1.0 + ROOT5],
        [11.0 - ROOT5, 25.0 + 13.0 * ROOT5, 25.0 + ROOT5, -1.0 - ROOT5],
        [10.0, 50.0, 50.0, 10.0],
    ]
) / 120.0


def streams(s, r, entering):
    """Flow, power, momentum and spin for each unit of area at radii of the jet."""
    with_wake, clean = profile(s, r)
    u = clean + entering * (with_wake - clean)  # 3
    layer = s.rc * s.b * np.sqrt(PI / 2.0) + s.b**2 / 2.0
    core = np.maximum(0.0, s.rc**2 - r**2) * s.peak**2
    missing = s.rotation**2 * (core + layer * clean**2)  # 2
    return np.stack([u, u * (u * u - missing), u * u, s.rotation * r**2 * u * u])


def panel_ends(s, shift, split):
    core = np.maximum(0.4, s.rc - shift)
    outer = s.rc + 3.0 * s.b + shift
    wake = np.minimum(2.0 * s.wake, 0.7 * core)
    inner = wake * np.linspace(0.0, 1.0, 3 * split + 1)[:, None]
    middle = wake + (core - wake) * np.linspace(0.0, 1.0, 2 * split + 1)[1:, None]
    shares = np.linspace(0.0, 1.0, 4 * split + 1)[1:] ** 1.5
    return np.concatenate([inner, middle, core + (outer - core) * shares[:, None]])


class Tube:
    """Running totals over the tube of jet about the mouth's centre, and what stands at its edge."""

    def __init__(self, s, shift, entering, numerics):
        ends = panel_ends(s, shift, numerics.panel_split)
        width = np.diff(ends, axis=0)
        nodes = ends[:-1, None, :] + PLACES[:, None] * width[:, None, :]
        count, _, benches = nodes.shape
        radii = np.concatenate([ends[:1], nodes.reshape(-1, benches)])
        means = np.empty((4,) + radii.shape)
        least = 0.0
        for most, number in numerics.directions:
            some = (shift >= least) & (shift < most)
            least = most
            if np.any(some):
                angles = PI * (np.arange(number) + 0.5) / number
                means[..., some] = self.mean(s, shift, entering, radii, np.cos(angles), some)
        rings = 2.0 * radii * means
        self.edges = means[1:] / means[0]
        inside = np.stack(
            [rings[:, 0:-1:3], rings[:, 1::3], rings[:, 2::3], rings[:, 3::3]], axis=2
        )
        gained = np.einsum("ij,qpjn->qpin", RUNNING, inside) * width[:, None, :]
        before = np.cumsum(gained[:, :, 2], axis=1) - gained[:, :, 2]
        totals = (before[:, :, None] + gained).reshape(4, 3 * count, benches)
        self.totals = np.concatenate([np.zeros((4, 1, benches)), totals], axis=1)

    @staticmethod
    def mean(s, shift, entering, radii, cosines, some):
        part = SimpleNamespace(**{key: np.asarray(value)[..., some] for key, value in vars(s).items()})
        share = entering if np.ndim(entering) == 0 else entering[some]
        r, d = radii[:, some], shift[some]
        total = 0.0
        for cosine in cosines:
            square = r**2 + d**2 - 2.0 * r * d * cosine
            total = total + streams(part, np.sqrt(np.maximum(0.0, square)), share)
        return total / len(cosines)

    def swallow(self, flow):
        """Means of pressure, speed and spin over what is swallowed (1, 4)."""
        flows = self.totals[0]
        i = np.sum(flows[1:-1] <= flow, axis=0)
        left = pick(flows, i)
        width = pick(flows, i + 1) - left
        share = (flow - left) / width
        inside = flow < flows[-1]
        means = []
        for total, edge in zip(self.totals[1:], self.edges):
            slopes = width * pick(edge, i), width * pick(edge, i + 1)
            value = hermite(share, pick(total, i), pick(total, i + 1), *slopes)
            means.append(np.where(inside, value, total[-1]) / flow)
        return means


class Spill:
    """Excess pressure at the exit by what is turned away (5)."""

    def __init__(self, stand_off, jet, mouth, contraction):
        rim = 2.0 * jet.rim_radius
        edge = min(max(rim, mouth["diameter"]), mouth["face_diameter"])
        slant = np.hypot(stand_off, (rim - edge) / 2.0)
        opening = contraction * PI * slant * (rim + edge) / 2.0 / jet.area
        decay = 2.0 * FIRST_ZERO_OF_J0 * stand_off / rim
        scale = np.exp(-decay) / opening**2
        self.near = (1.0 + decay) * scale
        self.far = 0.5 * decay**2 * scale
        self.stopped = min(1.0, (mouth["face_diameter"] / rim) ** 2)

    def excess(self, capture):
        turned = np.maximum(0.0, self.stopped - capture)
        return turned * (self.near * turned + self.far)


def entry_loss(mouth, wall, c):
    """models/blockage.md, 1 and 2."""
    throat = mouth["throat_diameter"]
    lip = mouth["lip_radius"] / throat
    ring = (mouth["face_diameter"] - mouth["diameter"]) / (2.0 * throat)
    flush = np.clip(ring / c.flush_face, 0.0, 1.0)
    if lip > 0.0:
        free = at_table(c.rounded_free, lip, c.rounded_free_factor)
    else:
        free = at_table(c.sharp_free, wall / throat, c.sharp_free_factor)
    return free + flush * (at_table(c.rounded_flush, lip, c.rounded_flush_factor) - free)


# Bearings: models/bearings.md --------------------------------------------------------------------


def kinematic_viscosity(oil, offset, temperature):
    def double_log(point):
        return np.log(np.log((point["kinematic_viscosity"] + offset) / 1e-6))

    cold, hot = double_log(oil["cold"]), double_log(oil["hot"])
    slope = (cold - hot) / np.log(oil["hot"]["temperature"] / oil["cold"]["temperature"])
    intercept = cold + slope * np.log(oil["cold"]["temperature"])
    log_z = np.exp(intercept - slope * np.log(temperature))
    z = 1e-6 * np.exp(log_z)
    return z - offset, -z * log_z * slope / temperature  # 4


def films(bearings, c):
    """Torque of all films over dynamic viscosity and speed (1 to 3)."""

    def petroff(radius, length, clearance):
        return 2.0 * PI * radius**3 * length / clearance

    inner = petroff(
        bearings["journal_diameter"] / 2.0, bearings["journal_length"], bearings["inner_clearance"]
    )
    outer = petroff(
        bearings["ring_outer_diameter"] / 2.0,
        bearings["ring_outer_length"],
        bearings["outer_clearance"],
    )
    ring = inner / (inner + c.ring_drag * outer)
    fourths = (bearings["thrust_outer_diameter"] ** 4 - bearings["thrust_inner_diameter"] ** 4) / 16.0
    thrust = c.thrust_land_share * PI * fourths / (2.0 * bearings["thrust_film"])
    return 2.0 * (1.0 - ring) * inner + 2.0 * thrust


def steady_drag(bearings, c, speed):
    """Drag where film temperature and torque agree (6): Newton from the cold side."""
    if bearings["kind"] != "journal":
        raise NotImplementedError("ball bearings")
    oil = bearings["oil"]
    warming = speed / (2.0 * oil["mass_flow"] * oil["specific_heat"])
    per_viscosity = films(bearings, c) * oil["density"] * speed
    temperature = oil["inlet_temperature"] + 0.0 * per_viscosity
    for _ in range(20):
        nu, slope = kinematic_viscosity(oil, c.viscosity_offset, temperature)
        miss = oil["inlet_temperature"] + per_viscosity * nu * warming - temperature
        move = miss / (1.0 - per_viscosity * slope * warming)
        temperature = temperature + move
        if np.all(np.abs(move) < 2.0**-24 * temperature):
            break
    return per_viscosity * kinematic_viscosity(oil, c.viscosity_offset, temperature)[0]


class Drag:
    def __init__(self, bearings, c, friction, fastest, numerics):
        self.last = numerics.drag_points - 1
        self.per_speed = self.last**2 / fastest
        places = np.arange(self.last + 1)[:, None]
        self.torque = friction * steady_drag(bearings, c, places**2 / self.per_speed)
        t = self.torque
        self.slope = np.empty_like(t)
        self.slope[0] = 0.0
        self.slope[1:-1] = 0.5 * (t[2:] - t[:-2])
        self.slope[-1] = 2.0 * (t[-1] - t[-2]) - self.slope[-2]

    def at(self, speed):
        place = np.sqrt(np.abs(speed) * self.per_speed)
        i = np.minimum(place.astype(int), self.last - 1)
        inside = hermite(
            place - i,
            pick(self.torque, i),
            pick(self.torque, i + 1),
            pick(self.slope, i),
            pick(self.slope, i + 1),
        )
        beyond = self.torque[-1] + self.slope[-1] * (place - self.last)
        return np.where(place >= self.last, beyond, inside)


# Engine: models/engine.md ------------------------------------------------------------------------


class Throat:
    """Speed over sqrt(2 cp T0) at a flow over the choked one (1 to 5)."""

    terms = 7

    def __init__(self, loss, exact):
        self.loss = np.atleast_1d(np.asarray(loss, dtype=float))
        self.exact = exact
        self.a = 1.0 + self.loss
        half = COLD * self.a + 0.5 * self.loss
        self.z = 1.0 / (half + np.sqrt(half**2 - 2.0 * COLD * self.a + self.a))  # 3
        self.choke_speed = np.sqrt(self.z)
        self.choke_flow = self.function(self.choke_speed)[0]
        nodes = 0.5 * (1.0 - np.cos(PI * (np.arange(self.terms) + 0.5) / self.terms))
        ratio = (1.0 - nodes**2)[:, None]
        shape = self.bisect(ratio) / self.choke_speed / (1.0 - nodes)[:, None]
        self.polynomial = np.linalg.solve(np.vander(nodes, increasing=True), shape)  # 4

    def function(self, v):
        y, ys = 1.0 - v**2, 1.0 - self.a * v**2
        return v * ys**COLD / y, 1.0 + 2.0 * v**2 * (1.0 / y - COLD * self.a / ys)  # 2

    def bisect(self, ratio):
        low = 0.0 * (ratio + self.choke_speed)
        high = low + self.choke_speed
        for _ in range(60):
            middle = 0.5 * (low + high)
            slow = self.function(middle)[0] < ratio * self.choke_flow
            low, high = np.where(slow, middle, low), np.where(slow, high, middle)
        return 0.5 * (low + high)

    def improve(self, v, ratio, steps):
        for _ in range(steps):
            value, slope = self.function(v)
            safe = np.maximum(slope, 1e-6)
            v = np.clip(v * (1.0 + (ratio * self.choke_flow / value - 1.0) / safe), 0.0, self.choke_speed)
        return v

    def speed(self, ratio):
        u = np.sqrt(np.maximum(0.0, 1.0 - ratio))
        powers = self.polynomial[-1]
        for term in self.polynomial[-2::-1]:
            powers = powers * u + term
        v = self.choke_speed * (1.0 - u) * powers
        return self.improve(v, np.clip(ratio, 1e-9, 1.0), 4) if self.exact else v


def slip_factor(k, c, radius_ratio):
    blades = k["blades"] + c.splitter_weight * k["splitters"]
    cosine = np.cos(k["backsweep"])
    basic = 1.0 - np.sqrt(cosine) / blades**c.slip_exponent
    limit = np.exp(-c.slip_radius_limit * cosine / blades)
    beyond = np.maximum(0.0, (radius_ratio - limit) / (1.0 - limit))
    return basic * (1.0 - beyond**c.slip_radius_exponent)  # 8


def passage_friction(k, c, r1, tangent):
    def hydraulic(height, pitch):
        return 2.0 * height * pitch / (height + pitch)

    r2 = k["exducer_diameter"] / 2.0
    at_inlet = hydraulic(
        0.5 * (k["inducer_diameter"] - k["inducer_hub_diameter"]),
        2.0 * PI * r1 / k["blades"] / np.sqrt(1.0 + tangent**2),
    )
    at_exit = hydraulic(
        k["tip_width"], 2.0 * PI * r2 / (k["blades"] + k["splitters"]) * np.cos(k["backsweep"])
    )
    return 4.0 * c.skin_friction * c.passage_length_ratio * r2 / (0.5 * (at_inlet + at_exit))  # 10


def annulus(outer, inner):
    return PI / 4.0 * (outer**2 - inner**2), np.sqrt((outer**2 + inner**2) / 8.0)


def prepare_compressor(k, c):
    area, r1 = annulus(k["inducer_diameter"], k["inducer_hub_diameter"])
    r2 = k["exducer_diameter"] / 2.0
    tangent = np.tan(k["inducer_tip_angle"]) * r1 / (k["inducer_diameter"] / 2.0)
    exit_area = c.exit_open_area * 2.0 * PI * r2 * k["tip_width"]
    return SimpleNamespace(
        r1=r1,
        r2=r2,
        inlet_area=c.inducer_open_area * area,
        exit_area=exit_area,
        inlet_tangent=tangent,
        exit_tangent=np.tan(k["backsweep"]),
        slip=1.0 - slip_factor(k, c, r1 / r2),
        friction=passage_friction(k, c, r1, tangent),
        clearance=c.clearance_loss * k["clearance"] / k["tip_width"],
        diffuser_ratio=k["exducer_diameter"] / k["diffuser_diameter"],
        volute_ratio=exit_area / (0.5 * k["diffuser_diameter"] * k["volute_area_over_radius"]),
        tip_width=k["tip_width"],
        c=c,
    )


def prepare_turbine(t, c, factor, exhaust_area):
    area, r5 = annulus(t["exducer_diameter"], t["exducer_hub_diameter"])
    r3 = t["inducer_diameter"] / 2.0
    swirl = c.swirl_coefficient / (r3 * factor * t["volute_area_over_radius"])
    radial = 1.0 / (c.inlet_open_area * 2.0 * PI * r3 * t["tip_width"])
    angle = t["exit_blade_angle"] - c.exit_deviation
    axial = factor * c.exit_open_area * area
    height = 0.5 * (t["exducer_diameter"] - t["exducer_hub_diameter"])
    volute_area = 1.0 / np.hypot(swirl, radial)  # 18
    return SimpleNamespace(
        r3=r3,
        r5=r5,
        volute_area=volute_area,
        swirl_share=swirl * volute_area,
        radial_share=radial * volute_area,
        best=1.0 - c.incidence_slip / t["blades"],
        outlet_area=axial * np.cos(angle),
        outlet_sine=np.sin(angle),
        outlet_step=np.cos(angle) * (1.0 - axial / exhaust_area),
        outlet_loss=c.passage_loss + c.clearance_loss * t["clearance"] / height,
        c=c,
    )


def breakaway(engine, c, gravity):
    """models/bearings.md, 9, and the rotor's mass (30)."""
    e, b = c.engine, engine["bearings"]
    r2, r3 = engine["compressor"]["exducer_diameter"] / 2.0, engine["turbine"]["inducer_diameter"] / 2.0
    shaft = (
        e.turbine_wheel_density * PI * (b["journal_diameter"] / 2.0) ** 2 * e.shaft_length_ratio * 2.0 * r2
    )
    mass = engine["rotor"]["mass"]
    if mass is None:
        mass = (
            e.compressor_wheel_mass * e.compressor_wheel_density * r2**3
            + e.turbine_wheel_mass * e.turbine_wheel_density * r3**3
            + shaft
        )
    seals = c.bearings.seal_drag * (2.0 * r2) ** 3
    return c.bearings.breakaway_friction * mass * gravity * b["journal_diameter"] / 2.0 + seals


class Engine:
    """The march from inducer to exhaust, cold."""

    def __init__(self, engine, c, numerics):
        self.numerics = numerics
        self.air = c.air
        self.k = prepare_compressor(engine["compressor"], c.compressor)
        self.combustor = engine["combustor"]
        self.exhaust = engine["exhaust"]
        calibration = engine["calibration"]
        self.t = prepare_turbine(
            engine["turbine"], c.turbine, calibration["turbine_area"], self.exhaust["area"]
        )
        exact = numerics.exact_throats
        self.inducer = Throat(0.0, exact)
        self.volute = Throat(c.turbine.volute_loss, exact)
        self.outlet = Throat(self.t.outlet_loss, exact)
        self.design_speed = engine["design_tip_speed"] / self.k.r2
        fastest = c.engine.tabulated_share * self.design_speed
        self.drag = Drag(engine["bearings"], c.bearings, calibration["friction"], fastest, numerics)
        self.breakaway = calibration["friction"] * breakaway(engine, c, c.air.gravity)

    def march(self, ambient, m, speed, inlet_pressure, swirl):
        """Pressure left over at the exhaust [Pa] and the gas's torque [N m]."""
        gas = ambient.pressure / (ambient.density * ambient.temperature)
        cp = COLD * gas
        state = SimpleNamespace(p=inlet_pressure, t=ambient.temperature, gas=gas, cp=cp)
        torque = self.compress(state, m, speed, swirl)
        x = (
            0.5
            * self.combustor["cold_loss_factor"]
            * (m / self.combustor["reference_area"]) ** 2
            * gas
            * state.t
            / state.p**2
        )
        state.p = state.p / (1.0 + x * (1.0 + 0.5 * x))  # 17
        more, exhaust = self.expand(state, m, speed)
        area = self.exhaust["area"]
        flux = m * gas / (area * ambient.pressure)
        x = 2.0 * flux**2 * state.t / cp
        share = x / (1.0 + np.sqrt(1.0 + x)) ** 2  # 26
        sonic = 1.0 / (2.0 * COLD - 1.0)
        choked_pressure = m * gas / area * (1.0 - sonic) * np.sqrt(state.t / (2.0 * cp * sonic))
        stands = np.where(share > sonic, choked_pressure, ambient.pressure)  # 27
        share = np.minimum(share, sonic)
        left = np.maximum(SMALL, 1.0 - (1.0 + self.exhaust["loss_factor"]) * share)
        return exhaust * left**COLD - stands, torque + more  # 28

    def through(self, throat, state, flux, p, t):
        """Speed through a throat; what exceeds choke comes out of the pressure (5)."""
        scale = np.sqrt(2.0 * state.cp * t)
        ratio = flux * state.gas * t / (p * scale * throat.choke_flow)
        return throat.speed(ratio) * scale, np.maximum(1.0, ratio)

    def compress(self, state, m, speed, swirl):
        k, c, cp = self.k, self.k.c, state.cp
        p1, t1 = state.p, state.t
        tip = speed * k.r2
        prewhirl = swirl / k.r1
        still = np.maximum(SMALL, 1.0 - 0.5 * prewhirl**2 / (cp * t1))
        cm1, excess = self.through(
            self.inducer, state, m / k.inlet_area, p1 * still**COLD, t1 * still
        )  # 6
        momentum = (m / k.inlet_area) ** 2 * (1.0 + k.inlet_tangent**2) + (
            tip * p1 / (state.gas * t1)
        ) ** 2
        reynolds = np.maximum(1.0, np.sqrt(momentum) * k.tip_width / viscosity(self.air, t1))
        scaled = (c.reynolds_reference / reynolds) ** c.reynolds_exponent
        friction = 0.25 * k.friction * (c.reynolds_fixed_share + (1.0 - c.reynolds_fixed_share) * scaled)

        def inlet_loss(axial):
            head_on = prewhirl - speed * k.r1 + axial * k.inlet_tangent
            along = axial**2 * (1.0 + k.inlet_tangent**2)
            return 0.5 * c.incidence_loss * head_on**2 + friction * along  # 7, 10

        relative_total = t1 + (0.5 * tip**2 - speed * swirl) / cp  # 11
        volume_flux = m * state.gas / (k.exit_area * p1)
        sonic = 1.0 / (2.0 * COLD - 1.0)
        fastest = np.sqrt(2.0 * sonic * cp * relative_total / (1.0 + k.exit_tangent**2))
        light = volume_flux * t1
        radial = np.minimum(fastest, light / (relative_total / t1) ** (COLD - 1.0))
        # The first step knows the inlet's speed at the total density only.
        speeds = [light * k.exit_area / k.inlet_area] + [cm1] * (self.numerics.wheel_steps - 1)
        for axial in speeds:  # 12
            turned = radial * k.exit_tangent + k.slip * tip  # 9
            relative = radial**2 + turned**2
            leaving = tip - turned
            loss = inlet_loss(axial) + friction * relative + k.clearance * leaving**2  # 11
            t2 = relative_total - 0.5 * relative / cp
            pressure_ratio = np.maximum(SMALL, (t2 - loss / cp) / t1) ** COLD
            mach = radial * (radial + turned * k.exit_tangent) * (COLD - 1.0) / (cp * t2)
            kinetic = 0.5 * (radial**2 + leaving**2) / cp
            share = kinetic / (t2 + kinetic)
            if self.numerics.exact_density:
                settled = (1.0 - share) ** (COLD - 1.0)
            else:
                settled = 1.0 - (COLD - 1.0) * share * (1.0 - 0.5 * (COLD - 2.0) * share)
            needed = volume_flux * t2 / pressure_ratio
            density = pressure_ratio * p1 / (state.gas * t2)
            radial = np.minimum(fastest, radial + (needed - radial) / np.maximum(0.25, 1.0 - mach))
        leaving = tip - radial * k.exit_tangent - k.slip * tip
        moment = k.r2 * leaving - swirl
        state.t = t1 + speed * moment / cp  # 13
        volute = radial * k.volute_ratio * settled  # 14
        mismatch = (leaving * k.diffuser_ratio - volute) ** 2 + (radial * k.diffuser_ratio) ** 2
        loss = loss + 0.5 * (
            c.diffuser_loss * (leaving**2 + radial**2)
            + c.volute_mixing_loss * mismatch
            + c.volute_cone_loss * volute**2
        )  # 15
        state.p = p1 / excess * np.maximum(SMALL, (state.t - loss / cp) / t1) ** COLD  # 16
        return -m * moment - 0.5 * c.disc_moment * density * speed**2 * k.r2**5

    def expand(self, state, m, speed):
        t, c, cp = self.t, self.t.c, state.cp
        p4, t4 = state.p, state.t
        c3, excess = self.through(self.volute, state, m / t.volute_area, p4, t4)  # 18
        swirl3 = t.swirl_share * c3
        u3, u5 = speed * t.r3, speed * t.r5
        loss = 0.5 * (
            c.volute_loss * c3**2
            + c.passage_loss * (t.radial_share * c3) ** 2
            + c.incidence_loss * (swirl3 - t.best * u3) ** 2
        )  # 19
        relative = np.maximum(SMALL * t4, t4 - (u3 * swirl3 - 0.5 * u5**2) / cp)  # 20
        p5 = p4 / excess * np.maximum(SMALL, (relative - loss / cp) / t4) ** COLD
        w5, excess = self.through(self.outlet, state, m / t.outlet_area, p5, relative)  # 21
        swirl5 = u5 - w5 * t.outlet_sine  # 22
        moment = t.r3 * swirl3 - t.r5 * swirl5
        kinetic = 0.5 * w5**2 / cp
        behind = relative - (1.0 + t.outlet_loss) * kinetic
        step = np.maximum(0.0, w5 * t.outlet_step)
        lost = 0.5 * (c.exit_swirl_loss * swirl5**2 + c.exit_expansion_loss * step**2)  # 25
        state.t = np.maximum(SMALL * t4, t4 - moment * speed / cp)  # 23
        kept = np.maximum(SMALL * t4, state.t - lost / cp)
        # Relative total to static, then the absolute total less what is lost behind the wheel.
        exhaust = p5 / excess * (behind / relative) ** COLD * (kept / (relative - kinetic)) ** COLD
        disc = 0.5 * c.disc_moment * p4 / (state.gas * t4) * speed**2 * t.r3**5
        return m * moment - disc, exhaust  # 24


# The bench as one: models/rig.md -----------------------------------------------------------------


class Bench:
    """Benches side by side, each at one stand-off: `coefficients` by module, arrays or numbers."""

    def __init__(self, parts, coefficients, numerics=AS_STATED):
        c = coefficients
        self.parts, self.c, self.numerics = parts, c, numerics
        self.ambient = ambient = room(parts["site"], c.air)
        self.drive = prepare_drive(parts["drive"], parts["motor"], c.drive)
        self.fan = fan = prepare_fan(parts["fan"], self.drive, ambient, c.fan)
        ones = np.ones(c.count)
        velocity, swirl = operate(fan, self.drive, parts["throttle"], ambient, 0.0 * ones)
        self.velocity = velocity
        self.head = 0.5 * ambient.density * velocity**2
        self.response = Response(fan, self.drive, parts["throttle"], ambient, velocity, numerics)
        self.area = fan.area * ones
        self.jet = SimpleNamespace(
            radius=np.sqrt(self.area / PI),
            area=self.area,
            rim_radius=fan.rim_radius,
            hub_radius=fan.hub_radius,
            blunt=fan.blunt,
            swirl=swirl,
            wind_ratio=ambient.wind / velocity,
            windy=ambient.wind > 0.0,
        )
        if parts["axis_readings"]:
            self.share = fitted_share(self.jet, parts["axis_readings"], self.head, c.jet)
        elif parts["propeller_share"] is not None:
            self.share = parts["propeller_share"] * ones
        else:
            self.share = estimated_share(self.jet, fan.straightened, c.jet)
        engine = parts["engine"]
        self.mouth = engine["mouth"]
        self.throat_area = PI / 4.0 * self.mouth["throat_diameter"] ** 2
        self.entry = entry_loss(self.mouth, parts["wall_thickness"], c.blockage)
        self.engine = Engine(engine, c, numerics)
        self.sense = ones
        self.choose_sense(parts["sense"])

    def choose_sense(self, sense):
        """A sense nobody knows: the one that brings less air at two exit diameters."""
        if sense != "unknown":
            self.sense = (1.0 if sense == "same" else -1.0) * np.ones(self.c.count)
            return
        probe = 4.0 * self.fan.rim_radius * np.ones(self.c.count)
        with_rotor = self.deliver(probe)[0]
        self.sense = -self.sense
        against = self.deliver(probe)[0]
        self.sense = np.where(with_rotor < against, 1.0, -1.0)

    def stand(self, stand_off):
        s = section(self.jet, self.share, stand_off, self.c.jet)
        mounting = self.parts["mounting"]
        aside = mounting["offset"] + stand_off * np.tan(mounting["tilt"])
        shift = np.abs(aside) / self.jet.radius + s.bend
        self.tube = Tube(s, shift, self.c.capture.wake_entering, self.numerics)
        self.spill = Spill(stand_off, self.jet, self.mouth, self.c.capture.rim_contraction)

    def supply(self, m):
        """Total pressures behind the entry, gauge, the second with the swirl's own; the swirl; the
        back-pressure ratio (2, 3, 4)."""
        rho = self.ambient.density
        relative = m / (rho * self.area * self.velocity)
        excess = self.spill.excess(relative)
        if np.any(excess > 1e-12):
            excess = self.balance(relative, excess)
        loaded = self.response.at(excess)
        velocity = loaded * self.velocity
        capture = relative / loaded
        pressure, speed, spin = self.tube.swallow(capture)
        total = 0.5 * rho * velocity**2 * (1.0 + excess) * pressure
        through = m / (rho * self.throat_area)
        still = np.maximum(0.0, 1.0 - velocity * speed / through)
        inducer = total - self.entry * still**2 * 0.5 * rho * through**2
        swirl = self.sense * spin * self.jet.radius * velocity
        tube = capture * self.jet.radius**2 / 2.0
        energy = swirl**2 / np.maximum(self.engine.k.r1**2, tube)
        wheel = inducer + 0.5 * rho * energy
        return SimpleNamespace(inducer=inducer, wheel=wheel, swirl=swirl, excess=excess)

    def balance(self, relative, excess):
        """Back-pressure and flow that agree: secant steps on a falling difference."""

        def miss(e):
            return e - self.spill.excess(relative / self.response.at(e))

        before, value = excess, miss(excess)
        excess = np.maximum(0.0, before - value / 1.5)
        for _ in range(40):
            new = miss(excess)
            change = excess - before
            slope = np.where(change == 0.0, 1.0, (new - value) / np.where(change == 0.0, 1.0, change))
            before, value = excess, new
            excess = np.maximum(0.0, excess - new / np.where(slope == 0.0, 1.0, slope))
            if np.all(np.abs(excess - before) <= 1e-13):
                break
        return excess

    def residuals(self, m, speed):
        offered = self.supply(m)
        left, torque = self.engine.march(
            self.ambient, m, speed, self.ambient.pressure + offered.wheel, offered.swirl
        )
        return left, torque - self.engine.drag.at(speed)

    def flow_at(self, speed, guess, tolerance):
        """Flow that passes at a speed, from a neighbour's: secant steps, all benches together."""
        before = guess
        value = self.residuals(before, speed)[0]
        m = guess * (1.0 + 1e-3)
        for _ in range(60):
            new, torque = self.residuals(m, speed)
            change = m - before
            slope = np.where(change == 0.0, -1.0, (new - value) / np.where(change == 0.0, 1.0, change))
            before, value = m, new
            step = np.where(slope == 0.0, 0.0, -new / np.where(slope == 0.0, 1.0, slope))
            m = np.clip(m + step, 0.5 * m, 2.0 * m)
            if np.all(np.abs(m - before) <= tolerance * m):
                break
        return before, torque

    def deliver(self, stand_off):
        """Airflow [kg/s] and rotor speed [rad/s] where the rotor settles from rest (5)."""
        self.stand(stand_off)
        still = np.zeros(self.c.count)
        scale = self.ambient.density * self.area * self.velocity
        m, torque = self.flow_at(still, 0.1 * scale, 1e-3)
        turning = torque > self.engine.breakaway
        low = SimpleNamespace(speed=still, m=m, torque=torque)
        high = SimpleNamespace(speed=still, m=m, torque=torque)
        step = 0.03 * self.engine.design_speed
        rising = turning.copy()
        while np.any(rising) and np.max(low.speed) < 1.3 * self.engine.design_speed:
            speed = np.where(rising, low.speed + step, high.speed)
            m, torque = self.flow_at(speed, np.where(rising, low.m, high.m), 1e-3)
            for name, new in (("speed", speed), ("m", m), ("torque", torque)):
                setattr(high, name, np.where(rising, new, getattr(high, name)))
            rising &= torque > 0.0
            for name in ("speed", "m", "torque"):
                setattr(low, name, np.where(rising, getattr(high, name), getattr(low, name)))
            step *= 1.7
        return self.settle(low, high, turning)

    def settle(self, low, high, turning):
        """Flow and speed together by Newton's method from the line between the ends."""
        width = np.where(turning, high.speed - low.speed, 1.0)
        span = np.where(turning, low.torque - high.torque, 1.0)
        part = np.where(turning, low.torque / span, 0.0)
        m = low.m + part * (high.m - low.m)
        w = low.speed + part * np.where(turning, width, 0.0)
        for _ in range(30):
            left, torque = self.residuals(m, w)
            dm, dw = 1e-6 * m, 1e-6 * np.maximum(w, 1.0)
            by_m = self.residuals(m + dm, w)
            by_w = self.residuals(m, w + dw)
            a, b = (by_m[0] - left) / dm, (by_w[0] - left) / dw
            c, d = (by_m[1] - torque) / dm, (by_w[1] - torque) / dw
            b, c, d = np.where(turning, b, 0.0), np.where(turning, c, 0.0), np.where(turning, d, 1.0)
            torque = np.where(turning, torque, 0.0)
            determinant = a * d - b * c
            step_m = (-left * d + torque * b) / determinant
            step_w = (-torque * a + left * c) / determinant
            m = m + np.clip(step_m, -0.5 * m, 0.5 * m)
            w = w + np.clip(step_w, -0.5 * width, 0.5 * width)
            if np.all(np.abs(step_m) <= 1e-12 * m) and np.all(np.abs(step_w) <= 1e-12 * width):
                break
        return m, w


def coefficients(values, members=None, count=1):
    """Coefficients by module from the exported ones; `members` replaces some by a value for each
    bench (of a table: by a factor on its ordinates)."""
    out = SimpleNamespace(count=count)
    for module, entries in values.items():
        fields = dict(entries)
        for key, entry in entries.items():
            if isinstance(entry, dict):
                fields[key + "_factor"] = 1.0
        setattr(out, module, SimpleNamespace(**fields))
    for name, column in (members or {}).items():
        module, key = name.split(".")
        table = isinstance(values[module][key], dict)
        setattr(getattr(out, module), key + "_factor" if table else key, np.asarray(column))
    return out
