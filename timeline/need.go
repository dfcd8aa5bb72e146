package timeline

// Need is a slot that must be on before and during every command of a unit: an
// arm or a condition of the device that drives it.
type Need struct {
	Role   SlotRole // arm or condition
	Device *Device
	Type   *DeviceType
	Slot   Slot
	Lead   Time // so long before the command it must be on, as the device type has it
}

// Needs lists what must be on for a command through the drive, arms first. It
// says the same of one that is out of service: nothing is commanded through that.
func (d Drive) Needs() []Need {
	if d.DeviceType == nil {
		return nil
	}
	var needs []Need
	for _, s := range d.DeviceType.Find(ArmSlot, d.Wire.Output) {
		needs = append(needs, Need{ArmSlot, d.Device, d.DeviceType, s, d.DeviceType.ArmLead})
	}
	for _, s := range d.DeviceType.Find(ConditionSlot, d.Wire.Output) {
		needs = append(needs, Need{ConditionSlot, d.Device, d.DeviceType, s, d.DeviceType.Condition})
	}
	return needs
}

// AskedBy names the rule that asks for the slots of a role, arm or condition.
func (r SlotRole) AskedBy() string {
	if r == ConditionSlot {
		return "condition-off"
	}
	return "arm-up"
}
