package rule

func init() {
	enter(
		preRollRule, outsideRule, closesLateRule, residualRule, recoveryRule, dutyRule, warmUpRule, warmByHandRule, openTimeRule, sharedOutputRule, singleUseRule,
		armUpRule, armLeftRule, armZoneRule, leftOpenRule, conditionRule, quietRule,
		handKeyRule, handLostRule, handOnceRule, handArmRule, handSharedArmRule,
		refillWindowRule, refillGapRule, refillReachRule, refillLostRule, refillNotGivenRule, openMisfireRule, stillLoadedRule,
		unwiredRule, noOutputRule, wrongArticleRule, wrongControlRule, lostRule, lostReferenceRule,
		patchOverlapRule, sharedPatchRule, patchEndRule, patchStartRule, firstSlotRule, bankAddressRule, slotChangeRule, openSlotRule,
		timecodeClashRule, midnightRule, startLabelRule, audioRule, noAudioRule,
		leadSpreadRule, longestGapRule, dmxFrameRule, loadedUnusedRule, overStockRule, transportRule, expiryRule, licenceRule, ageRule, specialistRule, permitRule, endsSoonRule, noticeMissedRule, noticeDueRule, repetitionRule,
		thinSongRule,
		bannedRule, roofRule, separationRule, performersRule, windRule, circuitRule, heatRule, roomRule, notCheckedRule, unknownRuleSetRule, denseRule, supplyReserveRule, supplyEmptyRule, wrongMediumRule, unknownSettingRule, staleAcceptanceRule,
	)
}
