"""The motions that a study prescribes, each led through from the calm trim of a setting: beside the waves."""

from seaload.result.prescribed_parts import prescribed_parts
from seaload.sailing.block_task import PrescribedTask
from seaload.scenario.records import other_side


def begin_motions(sailer, starts):
    """Function that gives the variables of the prescribed motions of a study, which are begun.

    sailer : `CaseSailer` of the study. starts : {sea: (number, Setting)} of the setting they start from in each sea;
    seas of one setting share its motions, for the water is flat.
    """
    study = sailer.study
    if not study.prescribed or not starts:
        return dict
    sailer.compile_first()
    foils = study.boat.foils
    windward = foils.get(other_side(study.foil_side))
    futures = {}
    for _, setting in starts.values():
        if setting not in futures:
            block = sailer.task([(*min(sailer.settings), 0)])
            futures[setting] = sailer.crew.submit(PrescribedTask(block, setting, windward, study.prescribed))

    def parts():
        found = {sea: futures[setting].result() for sea, (_, setting) in starts.items()}
        return prescribed_parts(study, found, {sea: number for sea, (number, _) in starts.items()})

    return parts
