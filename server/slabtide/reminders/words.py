"""What a reminder says, in English and Spanish: times first, in the job's own time zone."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from slabtide.engine.wording import degrees
from slabtide.engine.wording import drop as fall
from slabtide.reminders.contract import LANGUAGES, Language, Spec, When
from slabtide.reminders.hand_work import load_of
from slabtide.reminders.rules import working_time

LONGEST_NAME = 60
_BEFORE_ONE = re.compile(r"\blas (?=1:\d)")
_DAY_WORK = ("wash", "colour", "seal")

_WORK: Mapping[Language, Mapping[str, str]] = {
    "en": {
        "check": "Surface check",
        "texture": "Texture",
        "saw": "Saw",
        "wash": "Wash",
        "colour": "Second color",
        "seal": "Seal",
    },
    "es": {
        "check": "Revisión de superficie",
        "texture": "Textura",
        "saw": "Corte",
        "wash": "Lavado",
        "colour": "Segundo color",
        "seal": "Sellado",
    },
}
_STAGE: Mapping[Language, Mapping[str, str]] = {
    "en": {"heads_up": "coming up", "open": "open now", "last_call": "last call", "missed": "time is past"},
    "es": {"heads_up": "se acerca", "open": "ya se puede", "last_call": "último aviso", "missed": "ya pasó"},
}
_STAGE_OF: Mapping[Language, Mapping[str, str]] = {
    "en": {"texture missed": "not ticked by its end"},
    "es": {"texture missed": "sin marcar al terminar"},
}
_COAT: Mapping[Language, str] = {"en": "coat", "es": "capa"}
_LOAD: Mapping[Language, str] = {"en": "load", "es": "carga"}
_MOVED: Mapping[Language, str] = {"en": "Moved from {moved}. ", "es": "Cambió; antes {moved}. "}
_MOVED_BY: Mapping[Language, Mapping[str, str]] = {
    "en": {"forecast": "The forecast changed: moved from {moved}. "},
    "es": {"forecast": "Cambió el pronóstico: antes {moved}. "},
}
_ACT: Mapping[Language, str] = {"en": "I have it", "es": "Me encargo"}

_CARE: Mapping[Language, Mapping[str, str]] = {
    "en": {
        "check": " Wet concrete burns: gloves.",
        "texture": " Wet concrete burns: gloves, boots, knee boards.",
        "saw": " Water on the blade, respirator as local rules ask.",
        "wash": " Keep wash water out of street and drain.",
        "colour": " Gloves and eye protection; follow the label.",
        "seal": " No flame or spark, fresh air, respirator as the label asks.",
    },
    "es": {
        "check": " El concreto fresco quema: guantes.",
        "texture": " El concreto fresco quema: guantes, botas y tablas para las rodillas.",
        "saw": " Agua en el disco y respirador según las reglas locales.",
        "wash": " Que el agua de lavado no llegue a la calle ni al drenaje.",
        "colour": " Guantes y protección para los ojos; siga la etiqueta.",
        "seal": " Sin llama ni chispa, aire fresco y respirador según la etiqueta.",
    },
}

CUBIC_YARDS_PER_M3 = 1.30795
_POUR: Mapping[Language, Mapping[str, str]] = {
    "en": {
        "title": "Pour",
        "load": "1 load",
        "loads": "{loads} loads",
        "first": "First truck {at}",
        "care": "Wet concrete burns: gloves, boots, eye protection.",
    },
    "es": {
        "title": "Colado",
        "load": "1 camión",
        "loads": "{loads} camiones",
        "first": "Primer camión a las {at}",
        "care": "El concreto fresco quema: guantes, botas y lentes.",
    },
}

# {opens} likely opening, {by} early close, {closed} likely close, {left} time left to the early close and
# {even} to the likely one, {work} the work's name
_BODY: Mapping[Language, Mapping[str, str]] = {
    "en": {
        "check heads_up": "{work} from about {opens}. Somebody should be there with a glove and the phone.",
        "check open": "{work} now, before the mats at about {closed}. Note what you see: the times follow"
        " the slab.",
        "check last_call": "{work}: mats at about {closed}. Press it before the first one.",
        "check missed": "{work}: none was noted. Its times rest on mix and weather alone: try each mat"
        " first.",
        "texture heads_up": "{work} from about {opens}, likely to {closed}. Have mats, release and hands"
        " ready.",
        "texture heads_up endless": "{work} from about {opens}. Have mats, release and hands ready.",
        "texture open": "{work} now. Likely closes {closed}. Try one mat at an edge first: it must print"
        " clean.",
        "texture open endless": "{work} from now. Try one mat at an edge first: it must print clean.",
        "texture last_call": "{work} is closing. Likely end {closed}, {even} left. All hands and mats there.",
        "texture missed": "{work}: not ticked as done by its end, about {closed}. Done? Tick it. If not, try"
        " a mat; if it won't print, don't force it.",
        "saw heads_up": "Saw from about {opens}, by {by}. Have saw, blades, water and light on site.",
        "saw heads_up endless": "Saw from about {opens}. Have saw, blades, water and light on site.",
        "saw open": "Saw by {by}. {left} left. Cut a short test first: the edges must hold.",
        "saw open endless": "Saw from now. Cut a short test first: the edges must hold.",
        "saw last_call": "Saw by {by}. {left} left.",
        "saw missed": "Saw time ended about {closed}. Look for cracks before you cut, and ask your lead.",
        "heads_up": "{work} from {opens}. Check the weather, get the gear together.",
        "open": "{work} by {by}. Old enough now. Try a corner first.",
        "open endless": "{work} from now on. Old enough, if it is dry. Try a corner first.",
        "last_call": "{work} by {by}. {left} left.",
        "missed": "{work} was due by {closed}. Do it as soon as weather lets you, and try a corner first.",
        "kept heads_up": "{work} {kept} to {kept_to}, as kept. Check the weather, get the gear together.",
        "kept open": "{work} now, until {kept_to}, the time you kept. Try a corner first.",
        "lost": "{kept}, the time you kept, no longer suits: {why}. ",
        "lost next": "Next best {opens}. ",
        "lost wait": "No fit hours in sight yet. ",
    },
    "es": {
        "check heads_up": "{work} desde las {opens}, más o menos. Que haya alguien con guante y teléfono.",
        "check open": "{work}: ya, antes de los moldes hacia las {closed}. Anote lo que ve: las horas"
        " siguen a la losa.",
        "check last_call": "{work}: moldes hacia las {closed}. Presione antes del primero.",
        "check missed": "{work}: no hay ninguna. Las horas salen solo de mezcla y clima: pruebe cada molde.",
        "texture heads_up": "{work} desde las {opens}, quizá hasta las {closed}. Tenga listos moldes,"
        " desmoldante y gente.",
        "texture heads_up endless": "{work} desde las {opens}, más o menos. Tenga listos moldes y gente.",
        "texture open": "{work}: ya. Cierra hacia las {closed}. Pruebe un molde en la orilla: debe marcar"
        " limpio.",
        "texture open endless": "{work}: ya se puede. Pruebe un molde en la orilla: debe marcar limpio.",
        "texture last_call": "{work}: se está cerrando. Fin probable {closed}, quedan {even}. Toda la"
        " gente y los moldes ahí.",
        "texture missed": "{work}: sin marcar como hecha al terminar, hacia las {closed}. ¿Ya está?"
        " Márquela. Si no, pruebe un molde; si no marca, no lo fuerce.",
        "saw heads_up": "Corte de {opens} (más o menos) a {by}. Lleve sierra, discos, agua y luz.",
        "saw heads_up endless": "Corte desde las {opens}, más o menos. Lleve sierra, discos, agua y luz.",
        "saw open": "Corte antes de las {by}. Quedan {left}. Pruebe un corte corto: el borde debe aguantar.",
        "saw open endless": "Ya se puede cortar. Pruebe un corte corto: el borde debe aguantar.",
        "saw last_call": "Corte antes de las {by}. Quedan {left}.",
        "saw missed": "El corte terminó hacia las {closed}. Busque grietas antes de cortar y consulte.",
        "heads_up": "{work} desde las {opens}. Revise el clima y prepare el equipo.",
        "open": "{work} antes de las {by}. Ya tiene edad. Pruebe primero en una esquina.",
        "open endless": "{work}: ya se puede, si está seco. Pruebe primero en una esquina.",
        "last_call": "{work} antes de las {by}. Quedan {left}.",
        "missed": "{work} debía hacerse antes de las {closed}. Hágalo en cuanto pueda; pruebe una esquina.",
        "kept heads_up": "{work}: {kept} a {kept_to}, como se apartó. Revise el clima y prepare el equipo.",
        "kept open": "{work}: ya, hasta las {kept_to}, el horario apartado. Pruebe primero en una esquina.",
        "lost": "El horario apartado, {kept}, ya no sirve: {why}. ",
        "lost next": "La mejor opción: {opens}. ",
        "lost wait": "Aún no hay horas buenas a la vista. ",
    },
}
# The first night, said with the saw: {night} the time, {drop} how far under its peak, {coldest} its coldest
_NIGHT: Mapping[Language, Mapping[str, str]] = {
    "en": {
        "in_time": " First night: the surface is {drop} under its peak by {night}, then down to {coldest}."
        " Cut before, or lay blankets.",
        "too_late": " First night: the surface is {drop} under its peak by {night}, before a plain saw can"
        " cut. Early-entry saw, tooled joints or blankets.",
        "fallen": " The surface is {drop} under its peak since {night}: look for cracks first.",
    },
    "es": {
        "in_time": " Primera noche: a las {night} la superficie está {drop} por debajo de su máximo, luego"
        " baja a {coldest}. Corte antes o ponga mantas.",
        "too_late": " Primera noche: a las {night} la superficie está {drop} por debajo de su máximo, antes"
        " de que una sierra normal pueda cortar. Sierra de corte temprano, juntas a mano o mantas.",
        "fallen": " Desde las {night} la superficie está {drop} por debajo de su máximo: busque grietas"
        " primero.",
    },
}
_WHY: Mapping[Language, Mapping[str, str]] = {
    "en": {
        "too_green": "the concrete is too green",
        "not_yet": "the work before is not done",
        "recoat_early": "too soon after the coat before",
        "recoat_late": "too long after the coat before",
        "rain": "rain",
        "rain_before": "rain too shortly before",
        "rain_after": "rain too soon after",
        "damp": "the slab is still damp",
        "near_dew": "the surface is too near the dew point",
        "surface_cold": "the surface is too cold",
        "surface_hot": "the surface is too hot",
        "air_cold": "the air is too cold",
        "air_hot": "the air is too hot",
        "wind": "too much wind",
        "dark": "it is dark",
        "short": "too few fit hours on end",
    },
    "es": {
        "too_green": "el concreto está muy tierno",
        "not_yet": "falta el trabajo anterior",
        "recoat_early": "muy pronto tras la capa anterior",
        "recoat_late": "muy tarde tras la capa anterior",
        "rain": "lluvia",
        "rain_before": "lluvia poco antes",
        "rain_after": "lluvia poco después",
        "damp": "la losa sigue húmeda",
        "near_dew": "la superficie está muy cerca del punto de rocío",
        "surface_cold": "la superficie está muy fría",
        "surface_hot": "la superficie está muy caliente",
        "air_cold": "el aire está muy frío",
        "air_hot": "el aire está muy caliente",
        "wind": "demasiado viento",
        "dark": "está oscuro",
        "short": "muy pocas horas buenas seguidas",
    },
}
_DAYS: Mapping[Language, tuple[str, ...]] = {
    "en": ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"),
    "es": ("lun", "mar", "mié", "jue", "vie", "sáb", "dom"),
}


@dataclass(frozen=True, slots=True)
class Telling:
    """All that the words of one reminder rest on. `due`: when its stage starts; `at`: when it is read;
    `moved_why`: "forecast" where that alone moved it."""

    job_name: str
    time_zone: str
    what: str
    subject: str
    stage: str
    due: datetime
    opens: When
    closes: When | None
    moved_from: datetime | None
    at: datetime
    moved_why: str | None = None

    @classmethod
    def of(
        cls,
        spec: Spec,
        job_name: str,
        time_zone: str,
        moved_from: datetime | None,
        at: datetime,
        moved_why: str | None = None,
    ) -> "Telling":
        """What the words of a derived reminder rest on."""
        return cls(
            job_name=job_name,
            time_zone=time_zone,
            what=spec.what,
            subject=spec.subject,
            stage=spec.stage,
            due=spec.due,
            opens=spec.opens,
            closes=spec.closes,
            moved_from=moved_from,
            at=at,
            moved_why=moved_why,
        )


def title(telling: Telling, language: Language) -> str:
    """One line: the job, the work, the stage."""
    name = telling.job_name
    if len(name) > LONGEST_NAME:
        name = name[: LONGEST_NAME - 1] + "…"
    stage = _STAGE_OF[language].get(f"{telling.what} {telling.stage}", _STAGE[language][telling.stage])
    return f"{name}: {work(telling, language).lower()}, {stage}"


def body(telling: Telling, language: Language) -> str:
    """Times first, then what to do, then the usual caution."""
    stage, what = telling.stage, telling.what
    key = f"{stage} endless" if telling.closes is None and stage in ("heads_up", "open") else stage
    lines, kept = _BODY[language], telling.opens.kept
    line = lines.get(f"{what} {key}", lines.get(key))
    if kept is not None and kept.why is None:
        line = lines.get(f"kept {stage}", line)
    values = _values(telling, language)
    text = (line or lines[stage]).format(**values)
    moved = ""
    if kept is not None and kept.why is not None:
        moved = lines["lost"].format(**values)
        if stage == "heads_up":
            moved += lines["lost next" if kept.next_best else "lost wait"].format(**values)
    elif telling.moved_from is not None:
        said = _MOVED_BY[language].get(telling.moved_why or "", _MOVED[language])
        moved = said.format(moved=clock_time(telling.moved_from, telling, language))
    return _tidy(moved + text + _night(telling, language) + _CARE[language][what])


def _night(telling: Telling, language: Language) -> str:
    """The first night's drop of the surface, where the saw has one ahead or behind it."""
    drop = telling.opens.drop
    if drop is None:
        return ""
    case = "fallen" if drop.at <= telling.at else "too_late" if drop.too_late else "in_time"
    return _NIGHT[language][case].format(
        night=clock_time(drop.at, telling, language),
        coldest=degrees(drop.coldest_c),
        drop=fall(drop.drop_k),
    )


def in_every_language(telling: Telling) -> tuple[dict[str, str], dict[str, str]]:
    """(titles, bodies) by language."""
    return (
        {language: title(telling, language) for language in LANGUAGES},
        {language: body(telling, language) for language in LANGUAGES},
    )


def act(language: Language) -> str:
    """The word on the button that acknowledges."""
    return _ACT[language]


def work(telling: Telling, language: Language) -> str:
    """The name of the work, with the load or the coat it is of."""
    name = _WORK[language][telling.what]
    load = load_of(telling.subject)
    if load is not None:
        return f"{name}, {_LOAD[language]} {load}"
    coat = telling.subject.removeprefix("coat-")
    return f"{name}, {_COAT[language]} {coat}" if coat != telling.subject else name


def clock_time(moment: datetime, telling: Telling, language: Language) -> str:
    """A time on the job's wall clock; the day stands before it when it is not the day of reading.

    12-hour time in both languages, as crews in the United States read it.
    """
    return clock(moment, telling.at, ZoneInfo(telling.time_zone), language)


def clock(moment: datetime, read_at: datetime, zone: ZoneInfo, language: Language) -> str:
    """A time on the wall clock of `zone`, as `clock_time` has it."""
    local = moment.astimezone(zone)
    hour = local.hour % 12 or 12
    half = ("am", "pm") if language == "en" else ("a. m.", "p. m.")
    shown = f"{hour}:{local.minute:02d} {half[local.hour >= 12]}"
    if local.date() == read_at.astimezone(zone).date():
        return shown
    day = _DAYS[language][local.weekday()]
    return f"{day} {shown}" if language == "en" else f"{shown} del {day}"


def pour_title(job_name: str, language: Language) -> str:
    """One line for a pour."""
    return f"{job_name}: {_POUR[language]['title']}"


def pour_body(volume_m3: float | None, loads: int, at: str, language: Language) -> str:
    """How much comes and when, then the usual caution. `at`: the first truck's time in words."""
    words = _POUR[language]
    volume = "" if volume_m3 is None else f"{volume_m3:.1f} m³ ({volume_m3 * CUBIC_YARDS_PER_M3:.1f} yd³), "
    count = words["load" if loads == 1 else "loads"].format(loads=loads)
    return _tidy(f"{volume}{count}. {words['first'].format(at=at)}. {words['care']}")


def _tidy(text: str) -> str:
    """Spanish: a "p. m." brings its own full stop, and one o'clock is in the singular."""
    return _BEFORE_ONE.sub("la ", text.replace("m..", "m."))


def time_left(minutes: int) -> str:
    """Minutes as a person says them.

    >>> time_left(35), time_left(150)
    ('35 min', '2 h 30 min')
    """
    hours, rest = divmod(max(minutes, 0), 60)
    if hours == 0:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def _values(telling: Telling, language: Language) -> dict[str, str]:
    opened = telling.due if telling.stage == "open" else telling.opens.likely
    if telling.stage == "heads_up" and telling.what in _DAY_WORK and telling.opens.kept is None:
        opened = working_time(opened, ZoneInfo(telling.time_zone))  # nobody is sent to wash at night
    closes = telling.closes or telling.opens
    left = int((closes.early - telling.at).total_seconds() // 60)
    kept = telling.opens.kept
    of_kept = (
        {
            "kept": clock_time(kept.starts, telling, language),
            "kept_to": clock(kept.ends, kept.starts, ZoneInfo(telling.time_zone), language),
            "why": _WHY[language].get(kept.why or "", ""),
        }
        if kept
        else {}
    )
    return of_kept | {
        "work": work(telling, language),
        "opens": clock_time(opened, telling, language),
        "by": clock_time(closes.early, telling, language),
        "closed": clock_time(closes.likely, telling, language),
        "left": time_left(left),
        "even": time_left(int((closes.likely - telling.at).total_seconds() // 60)),
    }
