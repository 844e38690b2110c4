"""The foreman plans a job through the screens, with the weather entered by hand."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from tests.browser.acting import fill, open_part, pick, press, save
from tests.browser.phones import Phone


@dataclass(frozen=True)
class Site:
    """Where the job is: five in the afternoon there, so that the sun is the same whenever the test runs."""

    zone: str
    longitude_deg: float
    now: datetime

    @classmethod
    def at_five_in_the_afternoon(cls) -> "Site":
        now = datetime.now(UTC)
        ahead = (17 - now.hour + 11) % 24 - 11
        return cls(f"Etc/GMT{-ahead:+d}", max(-179.0, min(179.0, 15.0 * ahead)), now)

    def clock(self, hours_ago: float) -> str:
        """The time on the wall of the site, hours before the test began."""
        return self.moment(hours_ago).strftime("%H:%M")

    def spoken(self, hours_ago: float) -> str:
        """The same, as screens say it: 6:36 am."""
        return self.moment(hours_ago).strftime("%I:%M %p").lstrip("0").lower()

    def moment(self, hours_ago: float) -> datetime:
        return (self.now - timedelta(hours=hours_ago)).astimezone(ZoneInfo(self.zone))


def plan_job(phone: Phone, name: str, site: Site, pour_hours_ago: float, lead: str) -> str:
    """Opens a job and fills every part of its layout; gives the job's id."""
    page = phone.page
    phone.go("/jobs")
    page.get_by_role("link", name="New job").or_(page.get_by_role("button", name="New job")).first.click()
    fill(page, "Name of the job", name)
    pick(page, "Patio")
    fill(page, "Latitude", "38")
    fill(page, "Longitude", f"{site.longitude_deg:g}")
    fill(page, "Time zone", site.zone)
    press(page, "Save")
    page.wait_for_url(lambda url: "/layout" in url)
    job = page.url.split("#/job/")[1].split("/")[0]
    plan_slab(phone)
    plan_mix_and_order(phone, site.moment(pour_hours_ago))
    plan_crew(phone, lead)
    plan_weather(phone)
    return job


def plan_slab(phone: Phone) -> None:
    slab = open_part(phone.page, "Slab")
    fill(slab, "Length", "32' 6\"")
    fill(slab, "Width", "30")
    press(slab, "Draw the rectangle")
    fill(slab, "Side 1 to 2 stands against", "house wall")
    fill(slab, "Thickness", "4.5")
    pick(slab, "Gravel or soil")
    save(slab)


def plan_mix_and_order(phone: Phone, pour: datetime) -> None:
    mix = open_part(phone.page, "Mix")
    fill(mix, "Mix", "4000 psi, air")
    press(mix, "What is in it")
    pick(mix, "Hard, crushed")
    save(mix)
    order = open_part(phone.page, "Order")
    fill(order, "Volume to order", "14")
    fill(order, "Number of loads", "2")
    fill(order, "First truck", pour.strftime("%Y-%m-%dT%H:%M"))
    save(order)
    bays = open_part(phone.page, "Bays")
    press(bays, "Use these 2 bays")
    # Closed for good only when every bay is kept: a part opened before that would be closed with it.
    bays.get_by_role("button", name="Change: Bays", exact=True, expanded=False).wait_for()
    bays.get_by_role("button", name="Take the last cut back").wait_for()


def plan_crew(phone: Phone, lead: str) -> None:
    crew = open_part(phone.page, "Crew, mats, saw")
    crew.get_by_label("Crew lead").select_option(label=lead)
    pick(crew, "Wet saw (conventional)")
    fill(crew, "Length to saw", "30'")
    save(crew)


def plan_weather(phone: Phone) -> None:
    """A warm, fair spell, in the units the phone shows."""
    weather = open_part(phone.page, "Weather by hand")
    for day in weather.get_by_role("group").filter(has=phone.page.get_by_label("Low", exact=True)).all():
        fill(day, "Low", "66")
        fill(day, "High", "84")
        fill(day, "Humidity", "55")
        fill(day, "Wind", "6")
        pick(day, "some cloud")
    save(weather)
