"""The sources that several checks name, written once; a test holds them against the tables."""

from engine.source import Authority, Seen, Source

_CFR = "33 CFR part 183 subpart I"

CFR_TABLE_5 = Source(Authority.REGULATION, _CFR, "183.425(b), table 5")
CFR_COPPER = Source(Authority.REGULATION, _CFR, "183.425(a), (d), (e), (f)")
CFR_ENGINE_SPACE = Source(Authority.REGULATION, _CFR, "183.425(c), table 5 note 1")
CFR_BUNDLE = Source(Authority.REGULATION, _CFR, "183.425 table 5 note 2, 183.435(b)")
CFR_PLACE = Source(Authority.REGULATION, _CFR, "183.455(b), 183.460(a)")
CFR_RATING = Source(Authority.REGULATION, _CFR, "183.455(c), 183.460(b)")
CFR_DEVICE = Source(Authority.REGULATION, _CFR, "183.455(a), (d), (e), 183.460(a)")
CFR_VAPOUR = Source(Authority.REGULATION, _CFR, "183.410")
E11_DROP = Source(Authority.STANDARD, "ABYC E-11", "conductor sizing by voltage drop", Seen.QUOTED)
E11_PLACE = Source(Authority.STANDARD, "ABYC E-11", "overcurrent protection, location", Seen.QUOTED)
E11_RATING = Source(Authority.STANDARD, "ABYC E-11", "E-11.10, largest rating", Seen.QUOTED)
E11_INTERRUPTING = Source(Authority.STANDARD, "ABYC E-11", "table V.A (E-11.16)", Seen.QUOTED)
IEC_COPPER = Source(Authority.STANDARD, "IEC 60028", "standard annealed copper", Seen.QUOTED)
AWG_FORMULA = Source(
    Authority.STANDARD, "ASTM B258; IEC 60028", "diameter formula; standard annealed copper", Seen.QUOTED
)
HEAT_BALANCE = Source(
    Authority.PRACTICE, "heat balance of a conductor", "rise with the square of the current", Seen.MEMORY
)
IEC_SHORT = Source(Authority.STANDARD, "IEC 60949; IEC 60364-5-54", "k factors", Seen.QUOTED)
DEVICE_HEAT = Source(Authority.STANDARD, "ANSI/IEEE C37.20.1", "rating in air over 40 degC", Seen.QUOTED)
JOULE = Source(Authority.HANDBOOK, "Joule's law", "heat with the square of the current")
COMMON_PRACTICE = Source(Authority.PRACTICE, "common practice", "no source", Seen.MEMORY)
SAE_AREAS = Source(Authority.STANDARD, "SAE J1127 / J1128", "minimum areas", Seen.MEMORY)
